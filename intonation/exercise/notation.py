"""How notes and chords are written in an exercise: ``A5 Bb5:0.5 rest:2`` and ``F:2 C7:2``."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from intonation.errors import SettingsError
from intonation.exercise.pieces import WrittenChord, WrittenNote
from intonation.language import say
from intonation.pitch.chords import parse_chord
from intonation.pitch.notes import midi_of_note, note_name

_BEATS = re.compile(r"(\d{1,3}(?:\.\d{1,6})?)(?:/([1-9]\d?))?", re.ASCII)
REST = "rest"
NO_CHORD = "none"
LONGEST_BEATS = 64
MOST_WRONG_WORDS = 50
LOWEST_NOTE, HIGHEST_NOTE = 24, 108
_FINEST = 96

Written = TypeVar("Written", WrittenNote, WrittenChord)


@dataclass(frozen=True, slots=True)
class WrongWord:
    """A word that means nothing here.

    Parameters
    ----------
    line
        Lines below the first line of the text.
    problem, what_to_do
        Two sentences.
    """

    line: int
    problem: str
    what_to_do: str


def read_note(word: str) -> WrittenNote:
    """Return the note or rest that a word such as ``"Bb5:0.5"`` stands for.

    Raises
    ------
    SettingsError
        If it stands for none.
    """
    name, beats = _name_and_beats(word)
    if name.lower() == REST:
        return WrittenNote(None, beats)
    midi = midi_of_note(name)
    if not LOWEST_NOTE <= midi <= HIGHEST_NOTE:
        raise SettingsError(
            say('"{name}" is far outside any recorder.', name=name),
            say(
                "Write sounding notes from {lowest} to {highest}.",
                lowest=note_name(LOWEST_NOTE),
                highest=note_name(HIGHEST_NOTE),
            ),
        )
    return WrittenNote(midi, beats)


def read_chord(word: str) -> WrittenChord:
    """Return the chord, or silence, that a word such as ``"Gm7:2"`` stands for.

    Raises
    ------
    SettingsError
        If it stands for none.
    """
    name, beats = _name_and_beats(word)
    return WrittenChord(None if name.lower() == NO_CHORD else parse_chord(name), beats)


def read_words(
    text: str, read: Callable[[str], Written]
) -> tuple[tuple[Written, ...], tuple[WrongWord, ...]]:
    """Return what the words of a text stand for, and those that stand for nothing.

    Reading ends at the fiftieth wrong word: such a text is something else.
    """
    understood: list[Written] = []
    wrong: list[WrongWord] = []
    for offset, line in enumerate(text.split("\n")):
        for word in line.split():
            if len(wrong) >= MOST_WRONG_WORDS:
                return tuple(understood), tuple(wrong)
            try:
                understood.append(read(word))
            except SettingsError as mistake:
                wrong.append(WrongWord(offset, mistake.sentence, mistake.what_to_do))
    return tuple(understood), tuple(wrong)


def note_word(note: WrittenNote) -> str:
    """Return a note or rest as it is written."""
    return _word(REST if note.midi is None else note_name(note.midi), note.beats)


def chord_word(written: WrittenChord) -> str:
    """Return a chord as it is written."""
    return _word(NO_CHORD if written.chord is None else written.chord.symbol, written.beats)


def _word(name: str, beats: Fraction) -> str:
    if beats == 1:
        return name
    exact_decimal = 1000 % beats.denominator == 0
    return f"{name}:{float(beats):g}" if exact_decimal else f"{name}:{beats}"


def _name_and_beats(word: str) -> tuple[str, Fraction]:
    name, colon, beats_text = word.partition(":")
    beats = _beats(beats_text) if colon else Fraction(1)
    if not 0 < beats <= LONGEST_BEATS or beats.denominator > _FINEST:
        raise SettingsError(
            say('"{word}" has no usable length.', word=word),
            say(
                "Write the beats after a colon, for example {name}:1.5 or {name}:1/3, up to "
                "{longest_beats}.",
                name=name,
                longest_beats=LONGEST_BEATS,
            ),
        )
    return name, beats


def _beats(text: str) -> Fraction:
    """Return a length in beats, 0 for what is none; Fraction alone would accept 1e999999999."""
    match = _BEATS.fullmatch(text)
    if match is None:
        return Fraction(0)
    return Fraction(match.group(1)) / int(match.group(2) or 1)
