"""Difference limens from the literature: how small a step in pitch various listeners can hear.

They frame a result, no more: each was measured with other tones and another task.
"""

import math
from dataclasses import dataclass
from typing import Literal

from intonation.pitch.cents import CENTS_PER_OCTAVE

Task = Literal["tone after tone", "over a drone"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limen:
    """A published threshold.

    Parameters
    ----------
    listeners
        Whose it is, as a phrase that follows "than".
    cents
        The threshold.
    task
        Whether tones came one after the other or sounded against each other.
    source
        Where it is published.
    """

    listeners: str
    cents: float
    task: Task
    source: str


_ARNDT = "C. Arndt et al., Exp. Brain Res. 238 (2020) 247: two-choice task at 528 Hz"
_VOS = "J. Vos, Percept. Psychophys. 32 (1982) 297: direction of a mistuned fifth or third"

UNTRAINED = Limen(
    listeners="the average of untrained listeners",
    cents=38.3,
    task="tone after tone",
    source=_ARNDT,
)
MUSICIANS = Limen(
    listeners="the average of musicians without special training",
    cents=10.1,
    task="tone after tone",
    source=_ARNDT,
)
DIRECTION_LOWEST = Limen(
    listeners="the finest of listeners who told the direction of a mistuned fifth or third",
    cents=20.0,
    task="over a drone",
    source=_VOS,
)
DIRECTION_HIGHEST = Limen(
    listeners="the coarsest of listeners who told the direction of a mistuned fifth or third",
    cents=30.0,
    task="over a drone",
    source=_VOS,
)


def trained_limen(hz: float) -> Limen:
    """Return what highly trained listeners hear between two pure tones at a frequency in hertz.

    Notes
    -----
    ``log10 Δf = 0.026 √f − 0.533`` at 40 dB above threshold: C. C. Wier, W. Jesteadt and D. M.
    Green, JASA 61 (1977) 178 (from memory).
    """
    step_hz = 10.0 ** (0.026 * math.sqrt(hz) - 0.533)
    return Limen(
        listeners=f"highly trained listeners with pure tones at {hz:.0f} Hz",
        cents=CENTS_PER_OCTAVE * math.log2(1.0 + step_hz / hz),
        task="tone after tone",
        source="C. C. Wier, W. Jesteadt and D. M. Green, JASA 61 (1977) 178 (from memory)",
    )


def limens_for(task: Task, *, hz: float) -> tuple[Limen, ...]:
    """Return the published thresholds to compare with, finest first."""
    every = (trained_limen(hz), MUSICIANS, UNTRAINED, DIRECTION_LOWEST, DIRECTION_HIGHEST)
    return tuple(sorted((e for e in every if e.task == task), key=lambda limen: limen.cents))
