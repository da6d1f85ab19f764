"""Beats and seconds: when each beat of an exercise is, and between which beats things sound."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class BeatClock:
    """Seconds from the start of the sound by beats from the first note."""

    tempo: float
    count_in: int

    def seconds(self, beat: Fraction) -> float:
        """Return the moment of a beat; beats of the count-in are below zero."""
        return float(beat + self.count_in) * 60.0 / self.tempo


def spans_of(lengths: Sequence[Fraction], start: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    """Return begin and end of things that follow one another, in beats."""
    edges = [start]
    for length in lengths:
        edges.append(edges[-1] + length)
    return pairwise(edges)
