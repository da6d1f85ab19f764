"""An exercise from its TOML file. Every mistake is found, each with its line and a way out."""

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from intonation.errors import DataFileError, SettingsError
from intonation.exercise.notation import Written, read_chord, read_note, read_words
from intonation.exercise.pieces import ALTO_LOWEST_MIDI, KINDS, ORDERS, Exercise, Phrase
from intonation.language import say
from intonation.pitch.intervals import INTERVALS
from intonation.pitch.notes import midi_of_note
from intonation.toml_text import TomlText, nearest_word, parse_toml

WHERE_TO_LOOK = say("docs/exercise-files.md shows whole files.")
BELOW = {interval.name: interval.semitones for interval in INTERVALS} | {"octave": 12}
MOST_NOTES = 5000
MOST_NOTES_IN_PHRASE = 400
MOST_MISTAKES = 50
MOST_DRONE_NOTES = 3
SLOWEST, FASTEST = 20.0, 240.0
_TOP = (
    "title", "kind", "listen", "tempo", "beats_in_bar", "count_in", "order", "written_from", "key",
    "provenance", "evidence", "drone", "below", "breath", "phrase",
)  # fmt: skip
_PHRASE = ("notes", "chords", "drone", "below", "breath")


def parse_exercise(text: str, *, file_name: str) -> Exercise:
    """Return the exercise of a TOML text.

    Raises
    ------
    DataFileError
        The first mistake, and how many more there are.
    """
    exercise, mistakes = check_exercise(text, file_name=file_name)
    if exercise is None:
        first, more = mistakes[0], len(mistakes) - 1
        rest = say(" ({more} more below it.)", more=more) if more else ""
        raise DataFileError(first.sentence + rest, first.what_to_do)
    return exercise


def check_exercise(
    text: str, *, file_name: str
) -> tuple[Exercise | None, tuple[DataFileError, ...]]:
    """Return the exercise of a TOML text, or None with every mistake that was found in it."""
    try:
        source = parse_toml(text, file_name=file_name, what_to_do=WHERE_TO_LOOK)
    except DataFileError as mistake:
        return None, (mistake,)
    reading = _Reading(source)
    exercise = reading.exercise()
    if reading.mistakes:
        return None, tuple(reading.mistakes)
    return exercise, ()


@dataclass(slots=True)
class _Place:
    """A table of the file: the top, or one phrase."""

    table: dict[str, Any]
    header: str | None = None
    nth: int = 0


@dataclass(slots=True)
class _Reading:
    """One pass through a file, gathering its mistakes."""

    source: TomlText
    mistakes: list[DataFileError] = field(default_factory=list)

    def exercise(self) -> Exercise | None:
        top = _Place(self.source.table)
        self.known_keys(top, _TOP)
        exercise = Exercise(
            name=self.source.file_name.rsplit("/", 1)[-1].removesuffix(".toml"),
            title=self.words(top, "title"),
            kind=self.choice(top, "kind", KINDS, default=None),
            listen=self.words(top, "listen"),
            tempo=self.number(top, "tempo", 60.0, SLOWEST, FASTEST),
            beats_in_bar=int(self.number(top, "beats_in_bar", 4, 1, 16)),
            count_in=int(self.number(top, "count_in", 4, 0, 16)),
            order=self.choice(top, "order", ORDERS, default="written"),
            written_from=self.note(top, "written_from", ALTO_LOWEST_MIDI),
            key=self.words(top, "key", needed=False) or None,
            provenance=self.words(top, "provenance", needed=False),
            evidence=self.words(top, "evidence", needed=False),
            phrases=self.phrases(top),
        )
        return None if self.mistakes else exercise

    def wrong(self, place: _Place, key: str, problem: str, what_to_do: str, below: int = 0) -> None:
        if len(self.mistakes) >= MOST_MISTAKES:
            return
        line = self.source.line_of(key, header=place.header, nth=place.nth)
        if line is None and place.header is not None:
            line = self.source.line_of("", header=place.header, nth=place.nth)
        line = None if line is None else line + below
        self.mistakes.append(self.source.mistake(line, problem, what_to_do))

    def known_keys(self, place: _Place, known: tuple[str, ...]) -> None:
        for key in place.table:
            if key not in known and len(self.mistakes) < MOST_MISTAKES:
                self.wrong(
                    place,
                    key,
                    say('"{key}" is not a word of this file.', key=key),
                    nearest_word(key, known),
                )

    def words(self, place: _Place, key: str, *, needed: bool = True) -> str:
        value = place.table.get(key, "")
        if not isinstance(value, str) or (needed and not value.strip()):
            self.wrong(place, key, say("{key} must be words in quotes.", key=key), WHERE_TO_LOOK)
            return ""
        return " ".join(value.split())

    def number(self, place: _Place, key: str, default: float, low: float, high: float) -> float:
        value = place.table.get(key, default)
        usable = isinstance(value, int | float) and not isinstance(value, bool)
        if not usable or not low <= value <= high:
            self.wrong(
                place,
                key,
                say("{key} cannot be {value!r}.", key=key, value=value),
                say("Give a number from {low:g} to {high:g}.", low=low, high=high),
            )
            return default
        return float(value)

    def choice(
        self, place: _Place, key: str, known: tuple[str, ...], *, default: str | None
    ) -> str:
        value = place.table.get(key, default)
        if value not in known:
            problem = (
                say("{key} is missing.", key=key)
                if value is None
                else say("{key} cannot be {value!r}.", key=key, value=value)
            )
            self.wrong(place, key, problem, nearest_word(str(value), known))
            return known[0]
        return str(value)

    def note(self, place: _Place, key: str, default: int) -> int:
        if key not in place.table:
            return default
        try:
            return midi_of_note(str(place.table[key]))
        except SettingsError as mistake:
            self.wrong(place, key, mistake.sentence, mistake.what_to_do)
            return default

    def phrases(self, top: _Place) -> tuple[Phrase, ...]:
        tables = self.source.table.get("phrase", [])
        usable = isinstance(tables, list) and all(isinstance(each, dict) for each in tables)
        if not usable or not tables:
            self.wrong(top, "phrase", say("there is no [[phrase]] with notes."), WHERE_TO_LOOK)
            return ()
        phrases = tuple(
            self.phrase(_Place(table, "phrase", nth), top) for nth, table in enumerate(tables)
        )
        if sum(len(phrase.notes) for phrase in phrases) > MOST_NOTES:
            problem = say("more than {most_notes} notes are no exercise.", most_notes=MOST_NOTES)
            self.wrong(top, "phrase", problem, say("Divide the music into several files."))
        return phrases

    def phrase(self, place: _Place, top: _Place) -> Phrase:
        self.known_keys(place, _PHRASE)
        before = len(self.mistakes)
        notes = self.sequence(place, "notes", read_note)
        chords = self.sequence(place, "chords", read_chord) if "chords" in place.table else ()
        phrase = Phrase(
            notes=notes,
            chords=chords,
            drone=self.drone(place if "drone" in place.table else top),
            below=self.below(place if "below" in place.table else top),
            breath=self.breath(place if "breath" in place.table else top),
        )
        if len(self.mistakes) == before:
            self.check_phrase(place, phrase)
        return phrase

    def sequence(
        self, place: _Place, key: str, read: Callable[[str], Written]
    ) -> tuple[Written, ...]:
        text = place.table.get(key, "")
        if not isinstance(text, str) or not text.strip():
            self.wrong(
                place,
                key,
                say("the phrase has no {key}.", key=key),
                say('Write them as "A5 Bb5:0.5".'),
            )
            return ()
        understood, wrong = read_words(text, read)
        begins_below = self.begins_on_next_line(place, key)
        for word in wrong:
            self.wrong(place, key, word.problem, word.what_to_do, word.line + begins_below)
        return understood

    def begins_on_next_line(self, place: _Place, key: str) -> int:
        line = self.source.line_of(key, header=place.header, nth=place.nth)
        if line is None:
            return 0
        return int(re.search("""(\"\"\"|''')\\s*$""", self.source.lines[line - 1]) is not None)

    def drone(self, place: _Place) -> tuple[int, ...]:
        text = place.table.get("drone", "")
        try:
            notes = sorted({midi_of_note(word) for word in str(text).split()})
        except SettingsError as mistake:
            self.wrong(place, "drone", mistake.sentence, mistake.what_to_do)
            return ()
        if len(notes) > MOST_DRONE_NOTES:
            problem = say("a drone of {notes} notes hides what is to be heard.", notes=len(notes))
            self.wrong(
                place,
                "drone",
                problem,
                say("Write at most {most_drone_notes}.", most_drone_notes=MOST_DRONE_NOTES),
            )
        return tuple(notes)

    def below(self, place: _Place) -> int | None:
        if "below" not in place.table:
            return None
        name = self.choice(place, "below", tuple(BELOW), default=None)
        return BELOW[name]

    def breath(self, place: _Place) -> Fraction:
        return Fraction(self.number(place, "breath", 0.0, 0.0, 16.0)).limit_denominator(96)

    def check_phrase(self, place: _Place, phrase: Phrase) -> None:
        if max(len(phrase.notes), len(phrase.chords)) > MOST_NOTES_IN_PHRASE:
            problem = say(
                "more than {most_notes_in_phrase} notes or chords leave no place to breathe.",
                most_notes_in_phrase=MOST_NOTES_IN_PHRASE,
            )
            self.wrong(place, "notes", problem, say("Divide the phrase."))
        if all(note.midi is None for note in phrase.notes):
            self.wrong(place, "notes", say("the phrase has nothing but rests."), WHERE_TO_LOOK)
        chord_beats = sum((chord.beats for chord in phrase.chords), Fraction(0))
        if phrase.chords and chord_beats != phrase.beats:
            problem = say(
                "the chords last {chord_beats:g} beats, the notes {beats:g}.",
                chord_beats=float(chord_beats),
                beats=float(phrase.beats),
            )
            self.wrong(place, "chords", problem, say("Make them equally long."))
        if phrase.chords and self.source.table.get("order") == "varied":
            problem = say("notes in varied order cannot have chords written for them.")
            self.wrong(place, "chords", problem, say("Use a drone, or leave the order as written."))
        sounding = [bool(phrase.chords), bool(phrase.drone), phrase.below is not None]
        if sum(sounding) > 1:
            problem = say("chords, a drone and notes below exclude each other in one phrase.")
            self.wrong(place, "notes", problem, say("Leave one of them."))
