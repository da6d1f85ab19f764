"""Phrases one after another on an instrument: transposed, ordered, their chords in tune."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from intonation.exercise.interpretation import Interpretation
from intonation.exercise.pieces import Exercise, Phrase, WrittenNote
from intonation.exercise.timing import spans_of
from intonation.pitch.chords import TunedChord, tune_chord


@dataclass(frozen=True, slots=True)
class PlacedChord:
    """A tuned chord (None: silence) and the beats between which it sounds."""

    begin: Fraction
    end: Fraction
    tuned: TunedChord | None


@dataclass(frozen=True, slots=True)
class PlacedPhrase:
    """A phrase as it will be played, from one beat to another; the breath comes after ``end``."""

    number: int
    phrase: Phrase
    begin: Fraction
    chords: tuple[PlacedChord, ...]

    @property
    def end(self) -> Fraction:
        """Beat at which the last note ends."""
        return self.begin + self.phrase.beats

    @property
    def next_begin(self) -> Fraction:
        """Beat at which the next phrase begins."""
        return self.end + self.phrase.breath


def placed_phrases(
    exercise: Exercise,
    how: Interpretation,
    *,
    semitones: int,
    rng: np.random.Generator | None = None,
) -> tuple[PlacedPhrase, ...]:
    """Return all phrases, moved by some semitones; with ``rng``, varied ones in chance order."""
    placed: list[PlacedPhrase] = []
    begin = Fraction(0)
    before: TunedChord | None = None
    for number, written in enumerate(exercise.phrases):
        ordered = _in_chance_order(written, rng) if exercise.order == "varied" and rng else written
        phrase = _moved(ordered, semitones)
        chords = _tuned_chords(phrase, begin, how, before)
        placed.append(PlacedPhrase(number, phrase, begin, chords))
        begin = placed[-1].next_begin
        before = chords[-1].tuned if chords else None
    return tuple(placed)


def longest_chord(
    begin: Fraction, end: Fraction, chords: Sequence[PlacedChord]
) -> TunedChord | None:
    """Return the chord that sounds with most of a note, the earlier one of equals."""
    first = max(bisect_right(chords, begin, key=lambda chord: chord.begin) - 1, 0)
    beyond = bisect_left(chords, end, key=lambda chord: chord.begin)
    sounding = [chord for chord in chords[first:beyond] if chord.end > begin]
    if not sounding:
        return None
    return max(sounding, key=lambda chord: min(end, chord.end) - max(begin, chord.begin)).tuned


def _in_chance_order(phrase: Phrase, rng: np.random.Generator) -> Phrase:
    """Return the phrase with its notes, each with the rests that follow it, in another order."""
    groups: list[list[WrittenNote]] = []
    for note in phrase.notes:
        if note.midi is None and groups:
            groups[-1].append(note)
        else:
            groups.append([note])
    places = rng.permutation(len(groups))
    return replace(phrase, notes=tuple(note for place in places for note in groups[place]))


def _moved(phrase: Phrase, semitones: int) -> Phrase:
    return replace(
        phrase,
        notes=tuple(
            replace(n, midi=None if n.midi is None else n.midi + semitones) for n in phrase.notes
        ),
        chords=tuple(
            replace(c, chord=None if c.chord is None else c.chord.transposed(semitones))
            for c in phrase.chords
        ),
        drone=tuple(midi + semitones for midi in phrase.drone),
    )


def _tuned_chords(
    phrase: Phrase, begin: Fraction, how: Interpretation, before: TunedChord | None
) -> tuple[PlacedChord, ...]:
    """Return the phrase's chords in tune, the last one held through the breath."""
    chords: list[PlacedChord] = []
    spans = spans_of([chord.beats for chord in phrase.chords], begin)
    for (start, end), written in zip(spans, phrase.chords, strict=True):
        tuned = None
        if written.chord is not None:
            tuned = tune_chord(written.chord, how=how.harmony, within=how.tuning, before=before)
        chords.append(PlacedChord(start, end, tuned))
        before = tuned
    if chords:
        chords[-1] = replace(chords[-1], end=chords[-1].end + phrase.breath)
    return tuple(chords)
