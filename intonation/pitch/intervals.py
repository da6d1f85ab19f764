"""Pure intervals: the small whole-number ratios a note is tuned to over a sounding bass."""

from dataclasses import dataclass
from fractions import Fraction

from intonation.pitch.cents import cents_between


@dataclass(frozen=True, slots=True)
class Interval:
    """An interval within one octave and its pure ratio."""

    semitones: int
    name: str
    ratio: Fraction

    @property
    def pure_cents(self) -> float:
        """Width of the pure interval in cents."""
        return cents_between(float(self.ratio), target_hz=1.0)

    @property
    def cents_from_equal(self) -> float:
        """How much wider (positive) than the equal-tempered interval the pure one is."""
        return self.pure_cents - 100.0 * self.semitones


INTERVALS: tuple[Interval, ...] = (
    Interval(0, "unison", Fraction(1)),
    Interval(1, "minor second", Fraction(16, 15)),
    Interval(2, "major second", Fraction(9, 8)),
    Interval(3, "minor third", Fraction(6, 5)),
    Interval(4, "major third", Fraction(5, 4)),
    Interval(5, "fourth", Fraction(4, 3)),
    Interval(6, "augmented fourth", Fraction(45, 32)),
    Interval(7, "fifth", Fraction(3, 2)),
    Interval(8, "minor sixth", Fraction(8, 5)),
    Interval(9, "major sixth", Fraction(5, 3)),
    Interval(10, "minor seventh", Fraction(9, 5)),
    Interval(11, "major seventh", Fraction(15, 8)),
)
"""The 5-limit intervals above a bass note, by semitones (H. von Helmholtz, *On the Sensations of
Tone*, ch. 10–12; from memory)."""


def interval_above(semitones: int) -> Interval:
    """Return the interval class of any number of semitones, folded into one octave."""
    return INTERVALS[semitones % 12]


def interval_between(midi: int, *, over_midi: int) -> str:
    """Return the name of the interval between two notes, octaves left out, in either direction.

    A fourth below is a ``"fourth"``, and whole octaves are an ``"octave"``.
    """
    semitones = abs(midi - over_midi)
    if semitones and semitones % 12 == 0:
        return "octave"
    return interval_above(semitones).name
