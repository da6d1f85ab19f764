"""Where the drills sound: the listener's own instrument, concert pitch and tuning."""

from dataclasses import dataclass, field
from fractions import Fraction

import numpy as np

from intonation.listening.trials import RECORDER_HIGH, RECORDER_LOW, HeardTone, Register, Timbre
from intonation.pitch.cents import beats_per_second
from intonation.pitch.intervals import INTERVALS
from intonation.pitch.tuning import Tuning

OCTAVE = Fraction(2)
PLACES: dict[str, tuple[int, Fraction]] = {
    each.name: (each.semitones, each.ratio) for each in INTERVALS
} | {"octave": (12, OCTAVE)}
"""Semitones and pure ratio of every interval by name."""

LEVEL_DB = -22.0
"""Usual RMS level of one tone in dBFS: five of them together stay far from full scale."""

LEVEL_ROVE_DB = 3.0
BRIGHTNESS_ROVE_DB = 4.0
ONSET_ROVE_S = 0.04
"""Levels, brightness and onsets are drawn anew for every tone, evenly within so much on either
side, so that nothing but the pitch tells versions apart (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EarSetting:
    """What the drills take from the player's practice.

    Parameters
    ----------
    tuning
        Temperament at the player's concert pitch.
    low_midi, high_midi
        Notes of the two registers that trials are made of.
    pure
        Whether an interval is in tune when it is pure, rather than as the temperament has it.
    timbres
        Partials of the instrument in each register.
    """

    tuning: Tuning
    low_midi: range
    high_midi: range
    pure: bool = True
    timbres: dict[Register, Timbre] = field(
        default_factory=lambda: {"low": RECORDER_LOW, "high": RECORDER_HIGH}
    )

    def notes_midi(self, register: Register) -> range:
        """Return the notes of a register."""
        return self.low_midi if register == "low" else self.high_midi

    def pair_hz(self, midi: int, interval: str) -> tuple[float, float]:
        """Return the frequencies of a note and of the one that is the interval above, in tune."""
        semitones, ratio = PLACES[interval]
        lower_hz = self.tuning.hz(midi)
        upper_hz = lower_hz * float(ratio) if self.pure else self.tuning.hz(midi + semitones)
        return lower_hz, upper_hz


def some_note(notes_midi: range, rng: np.random.Generator) -> int:
    """Return one of some notes, drawn by chance."""
    return int(rng.choice(notes_midi))


def some_sign(rng: np.random.Generator) -> float:
    """Return +1 or −1, drawn by chance."""
    return float(rng.choice((-1.0, 1.0)))


def roved(
    hz: float, timbre: Timbre, start_s: float, end_s: float, rng: np.random.Generator
) -> HeardTone:
    """Return a tone whose level, brightness and onset are drawn by chance."""
    late_s = float(rng.uniform(0.0, ONSET_ROVE_S))
    return HeardTone(
        hz=hz,
        level_db=LEVEL_DB + float(rng.uniform(-LEVEL_ROVE_DB, LEVEL_ROVE_DB)),
        start_s=start_s + late_s,
        duration_s=end_s - start_s - late_s,
        timbre=timbre,
        brightness_db=float(rng.uniform(-BRIGHTNESS_ROVE_DB, BRIGHTNESS_ROVE_DB)),
    )


def beats_hz(lower_hz: float, upper_hz: float, *, interval: str) -> float:
    """Return how fast an interval beats whose pure form is the named one."""
    ratio = PLACES[interval][1]
    return beats_per_second(
        upper_hz, against_hz=lower_hz, ratio=(ratio.numerator, ratio.denominator)
    )
