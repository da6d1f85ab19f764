"""Chords from the notes of all parts: beat by beat, the chord that explains most of what sounds."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from math import ceil, floor

from intonation.exercise.imported_music import TimedChord, TimedNote
from intonation.exercise.pieces import WrittenChord
from intonation.pitch.chords import CHORD_KINDS, Chord

_KINDS = ("", "m", "7", "m7", "dim", "sus4")
_FOREIGN_COST = 1.0
_MISSING_COST = 0.35
_SEVENTH_COST = 0.1


def chords_of_notes(
    notes: Sequence[TimedNote], *, begin: Fraction, end: Fraction
) -> tuple[TimedChord, ...]:
    """Return a chord for every beat from ``begin`` to ``end`` in which one can be told.

    A beat that tells none (a single note, or a clash) keeps the chord before it.
    """
    by_beat = _sounding_by_beat(notes)
    found = (
        (beat, _best_chord(_weights(by_beat.get(beat, ()), beat)))
        for beat in range(floor(begin), ceil(end))
    )
    return tuple(TimedChord(Fraction(beat), chord) for beat, chord in found if chord is not None)


def chords_between(
    chords: Sequence[TimedChord], *, begin: Fraction, end: Fraction
) -> tuple[WrittenChord, ...]:
    """Return the chords that hold between two beats as they are written, equal neighbours joined.

    The first chord is taken to hold from the very beginning.
    """
    if not chords or all(each.chord is None for each in chords):
        return ()
    starts = [each.start for each in chords]
    inside = starts[bisect_right(starts, begin) : bisect_left(starts, end)]
    spans = [
        (edge, chords[max(bisect_right(starts, edge) - 1, 0)].chord) for edge in (begin, *inside)
    ]
    joined = [(chord, next(iter(group))[0]) for chord, group in groupby(spans, lambda s: s[1])]
    ends = [start for _, start in joined[1:]] + [end]
    return tuple(
        WrittenChord(chord, until - start)
        for (chord, start), until in zip(joined, ends, strict=True)
    )


def _sounding_by_beat(notes: Iterable[TimedNote]) -> dict[int, list[TimedNote]]:
    by_beat: dict[int, list[TimedNote]] = {}
    for note in notes:
        for beat in range(floor(note.start), ceil(note.end)):
            by_beat.setdefault(beat, []).append(note)
    return by_beat


def _weights(sounding: Sequence[TimedNote], beat: int) -> dict[int, float]:
    """Return how long each pitch class sounds within one beat, the lowest note counting double."""
    begin, end = Fraction(beat), Fraction(beat + 1)
    lowest = min((note.midi for note in sounding), default=0)
    weights: dict[int, float] = {}
    for note in sounding:
        together = float(min(note.end, end) - max(note.start, begin))
        weight = together * (2.0 if note.midi == lowest else 1.0)
        weights[note.midi % 12] = weights.get(note.midi % 12, 0.0) + weight
    return weights


def _candidates(weights: dict[int, float]) -> Iterator[Chord]:
    return (Chord(root, kind) for root in sorted(weights) for kind in _KINDS)


def _best_chord(weights: dict[int, float]) -> Chord | None:
    if len(weights) < 2:
        return None
    best = max(_candidates(weights), key=lambda chord: _explained(chord, weights))
    return best if _explained(best, weights) > 0 else None


def _explained(chord: Chord, weights: dict[int, float]) -> float:
    """Return the weight inside the chord, less what is foreign to it or missing in it."""
    total = sum(weights.values())
    inside = sum(weight for pc, weight in weights.items() if chord.member_of(pc))
    missing = sum(pc not in weights for pc in chord.pitch_classes)
    seventh = len(CHORD_KINDS[chord.kind]) - 3
    root = 0.05 * weights.get(chord.root, 0.0) / total
    return (
        inside / total
        - _FOREIGN_COST * (total - inside) / total
        - _MISSING_COST * missing
        - _SEVENTH_COST * seventh
        + root
    )
