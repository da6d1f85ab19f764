"""Difference limens from the literature: how small a step in pitch various listeners can hear.

They frame a result, no more: each was measured with other tones and another task.
"""

import math
from dataclasses import dataclass
from typing import Literal

from intonation.language import say
from intonation.listening.estimate import Likely
from intonation.pitch.cents import CENTS_PER_OCTAVE

Task = Literal["tone after tone", "over a drone"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limen:
    """A published threshold.

    Parameters
    ----------
    listeners
        Whose it is, as a phrase that follows "than".
    lowest_cents, highest_cents
        The threshold, or the range in which it lay.
    task
        Whether tones came one after the other or sounded against each other.
    source
        Where it is published.
    """

    listeners: str
    lowest_cents: float
    highest_cents: float
    task: Task
    source: str


_ARNDT = "C. Arndt et al., Exp. Brain Res. 238 (2020) 247"
_VOS = "J. Vos, Percept. Psychophys. 32 (1982) 297"

UNTRAINED = Limen(
    listeners=say("most untrained listeners at 528 Hz"),
    lowest_cents=38.3,
    highest_cents=38.3,
    task="tone after tone",
    source=_ARNDT,
)
MUSICIANS = Limen(
    listeners=say("musicians without special training at 528 Hz"),
    lowest_cents=10.1,
    highest_cents=10.1,
    task="tone after tone",
    source=_ARNDT,
)
MISTUNED_INTERVAL = Limen(
    listeners=say("listeners who told the direction of a mistuned fifth or third"),
    lowest_cents=20.0,
    highest_cents=30.0,
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
    cents = CENTS_PER_OCTAVE * math.log2(1.0 + step_hz / hz)
    return Limen(
        listeners=say("highly trained listeners with pure tones at {hz:.0f} Hz", hz=hz),
        lowest_cents=cents,
        highest_cents=cents,
        task="tone after tone",
        source="C. C. Wier et al., JASA 61 (1977) 178, from memory",
    )


def limens_for(task: Task, *, hz: float) -> tuple[Limen, ...]:
    """Return the published thresholds to compare with, finest first."""
    every = (trained_limen(hz), MUSICIANS, UNTRAINED, MISTUNED_INTERVAL)
    return tuple(limen for limen in every if limen.task == task)


def compared(threshold_cents: Likely, limen: Limen) -> Literal["finer", "alike", "above"]:
    """Return how a threshold lies to a published one; alike unless its 90 % interval clears it."""
    if threshold_cents.high < limen.lowest_cents:
        return "finer"
    return "above" if threshold_cents.low > limen.highest_cents else "alike"
