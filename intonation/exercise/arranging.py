"""From imported music to an exercise: one melody, chords under it, phrases to breathe between."""

import difflib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from statistics import fmean

from intonation.errors import DataFileError
from intonation.exercise.exercise_file import FASTEST, MOST_NOTES, MOST_NOTES_IN_PHRASE, SLOWEST
from intonation.exercise.harmonising import chords_between, chords_of_notes
from intonation.exercise.imported_music import (
    ImportedMusic,
    ImportedPart,
    TimedChord,
    TimedNote,
)
from intonation.exercise.notation import HIGHEST_NOTE, LOWEST_NOTE
from intonation.exercise.pieces import Exercise, Phrase, WrittenNote
from intonation.language import say

LISTEN = say(
    "Hold every long note until the chord under it has come to rest. "
    "Afterwards see which notes pulled, and whether they were root, third or fifth."
)
_SMALL_GAP = Fraction(1, 2)
_BREATH = Fraction(1)
_LONGEST_NOTE = Fraction(32)
_LONGEST_BREATH = Fraction(4)
_DEFAULT_TEMPO = 60.0


@dataclass(slots=True)
class _PhraseNotes:
    """Notes of one phrase, without a gap of a beat or more."""

    notes: list[TimedNote]

    @property
    def begin(self) -> Fraction:
        return self.notes[0].start

    @property
    def end(self) -> Fraction:
        return self.notes[-1].end


def likely_melody(music: ImportedMusic) -> int:
    """Return the number, from 0, of the part that lies highest."""
    means = [fmean(note.midi for note in part.notes) for part in music.parts]
    return means.index(max(means))


def arrange(music: ImportedMusic, *, name: str, melody: str | int | None = None) -> Exercise:
    """Return an exercise made of imported music.

    Parameters
    ----------
    music
        What the file says.
    name
        Name of the exercise.
    melody
        The part that is the melody: its name or its number from 1 as text, or its number from 0;
        None for the one that lies highest.

    Raises
    ------
    DataFileError
        If there is no such part, or it is no melody for a recorder.
    """
    part = _melody_part(music, melody)
    line = _single_line(part.notes)
    _check_range(music, part, line)
    phrases = _phrases(line, music.beats_in_bar)
    everything = [note for each in music.parts for note in each.notes]
    chords = music.chords or chords_of_notes(everything, begin=line[0].start, end=phrases[-1].end)
    return Exercise(
        name=name,
        title=" ".join(music.title.split()) or name,
        kind="melody",
        listen=LISTEN,
        tempo=round(min(max(music.tempo or _DEFAULT_TEMPO, SLOWEST), FASTEST), 1),
        beats_in_bar=music.beats_in_bar,
        count_in=music.beats_in_bar,
        phrases=_written(phrases, chords),
        provenance=say(
            "Imported from {file_name}, part {part}.", file_name=music.file_name, part=part.name
        ),
    )


def _melody_part(music: ImportedMusic, wanted: str | int | None) -> ImportedPart:
    if wanted is None:
        return music.parts[likely_melody(music)]
    if isinstance(wanted, int):
        return music.parts[wanted]
    names = [part.name for part in music.parts]
    if wanted in names:
        return music.parts[names.index(wanted)]
    if wanted.isascii() and wanted.isdecimal() and 1 <= int(wanted[:6]) <= len(names):
        return music.parts[int(wanted[:6]) - 1]
    near = difflib.get_close_matches(wanted, names, n=1)
    listed = ", ".join(f"{number} {each}" for number, each in enumerate(names[:20], start=1))
    raise DataFileError(
        say('{file_name} has no part "{wanted}".', file_name=music.file_name, wanted=wanted),
        say("Did you mean {near}?", near=near[0])
        if near
        else say("It has {listed}.", listed=listed),
    )


def _single_line(notes: Sequence[TimedNote]) -> list[TimedNote]:
    """Return the upper line: the highest note of each onset, cut off where the next one begins."""
    highest: dict[Fraction, TimedNote] = {}
    for note in notes:
        known = highest.get(note.start)
        if known is None or note.midi > known.midi:
            highest[note.start] = note
    starts = sorted(highest)
    line: list[TimedNote] = []
    for start, following in zip(starts, [*starts[1:], None], strict=True):
        note = highest[start]
        end = min(note.end, start + _LONGEST_NOTE)
        if following is not None and (end > following or following - end < _SMALL_GAP):
            end = min(following, start + _LONGEST_NOTE)
        line.append(replace(note, beats=end - start))
    return line


def _check_range(music: ImportedMusic, part: ImportedPart, line: Sequence[TimedNote]) -> None:
    if len(line) > MOST_NOTES:
        raise DataFileError(
            say(
                "{file_name}: the part {part} has {line} notes.",
                file_name=music.file_name,
                part=part.name,
                line=len(line),
            ),
            say("Divide the music; an exercise has at most {most_notes}.", most_notes=MOST_NOTES),
        )
    if any(not LOWEST_NOTE <= note.midi <= HIGHEST_NOTE for note in line):
        raise DataFileError(
            say(
                "{file_name}: the part {part} goes far beyond any recorder.",
                file_name=music.file_name,
                part=part.name,
            ),
            say("Choose another part as the melody."),
        )


def _phrases(line: Sequence[TimedNote], beats_in_bar: int) -> list[_PhraseNotes]:
    """Return the line cut at breath marks and rests, else at a bar line after four bars."""
    phrases = [_PhraseNotes([line[0]])]
    for note in line[1:]:
        current = phrases[-1]
        marked = current.notes[-1].ends_phrase
        long_enough = note.start - current.begin >= 4 * beats_in_bar
        at_bar_line = note.start % beats_in_bar == 0
        far_too_long = (
            note.start - current.begin >= 8 * beats_in_bar
            or len(current.notes) >= MOST_NOTES_IN_PHRASE // 2
        )
        rests = note.start - current.end >= _BREATH
        if marked or rests or (long_enough and at_bar_line) or far_too_long:
            phrases.append(_PhraseNotes([note]))
        else:
            current.notes.append(note)
    return phrases


def _written(phrases: Sequence[_PhraseNotes], chords: Sequence[TimedChord]) -> tuple[Phrase, ...]:
    return tuple(
        Phrase(
            notes=_written_notes(phrase.notes),
            chords=chords_between(chords, begin=phrase.begin, end=phrase.end),
            breath=_breath(phrase, following),
        )
        for phrase, following in zip(phrases, [*phrases[1:], None], strict=True)
    )


def _breath(phrase: _PhraseNotes, following: _PhraseNotes | None) -> Fraction:
    rest = Fraction(0) if following is None else following.begin - phrase.end
    return min(max(rest, _BREATH), _LONGEST_BREATH)


def _written_notes(notes: Sequence[TimedNote]) -> tuple[WrittenNote, ...]:
    written: list[WrittenNote] = []
    for note, following in zip(notes, [*notes[1:], None], strict=True):
        written.append(WrittenNote(note.midi, note.beats))
        if following is not None and following.start > note.end:
            written.append(WrittenNote(None, following.start - note.end))
    return tuple(written)
