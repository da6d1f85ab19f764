"""The method of adjustment: where a listener leaves a note that is to be tuned, and how surely.

The mean of the settings is the *constant error*, what sounds in tune to this listener; their spread
is the *variable error*. Starting from above and below in turn shows whether the start drags the
setting along (G. T. Fechner's third method; see G. A. Gescheider, *Psychophysics*, 3rd ed. 1997,
ch. 3; from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from intonation.listening.estimate import Likely
from intonation.listening.normal import Z_95

FEWEST_SETTINGS = 3

_T_95 = (
    6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812,
    1.796, 1.782, 1.771, 1.761, 1.753, 1.746, 1.740, 1.734, 1.729, 1.725,
)  # fmt: skip
"""95 % points of Student's t for 1 to 20 degrees of freedom (NIST/SEMATECH e-Handbook of
Statistical Methods, 1.3.6.7.2)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TunedNote:
    """One setting.

    Parameters
    ----------
    start_cents, final_cents
        How far off the note was at the start and when the listener was content.
    """

    start_cents: float
    final_cents: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustmentResult:
    """What some settings tell.

    Parameters
    ----------
    settings
        How many there were.
    constant_cents
        Their mean: what sounds in tune.
    variable_cents
        Their standard deviation: how surely it is found again.
    rms_cents
        Root mean square distance from in tune: both errors together.
    drag_cents
        Half the difference between settings begun above and below; positive when they stay on
        the side where they began. None if all began on one side.
    """

    settings: int
    constant_cents: Likely
    variable_cents: Likely
    rms_cents: float
    drag_cents: float | None


def adjustment_result(notes: Sequence[TunedNote]) -> AdjustmentResult | None:
    """Return what the settings tell; None for fewer than three."""
    count = len(notes)
    if count < FEWEST_SETTINGS:
        return None
    final = np.array([note.final_cents for note in notes])
    mean, sd = float(final.mean()), float(final.std(ddof=1))
    half = t_95(count - 1) * sd / math.sqrt(count)
    return AdjustmentResult(
        settings=count,
        constant_cents=Likely(mean, mean - half, mean + half),
        variable_cents=_spread(sd, count - 1),
        rms_cents=float(np.sqrt(np.mean(final**2))),
        drag_cents=_drag(notes),
    )


def t_95(degrees: int) -> float:
    """Return the 95 % point of Student's t.

    Beyond 20 degrees of freedom by the first two terms of its expansion in 1/n around the normal
    one (Abramowitz and Stegun, *Handbook of Mathematical Functions*, 26.7.5).
    """
    if degrees <= len(_T_95):
        return _T_95[degrees - 1]
    cubic = (Z_95**3 + Z_95) / 4.0
    quintic = (5.0 * Z_95**5 + 16.0 * Z_95**3 + 3.0 * Z_95) / 96.0
    return Z_95 + cubic / degrees + quintic / degrees**2


def _spread(sd: float, degrees: int) -> Likely:
    """Return a standard deviation with its 90 % interval from chi-square.

    The quantiles of chi-square are those of E. B. Wilson and M. M. Hilferty (1931; Abramowitz and
    Stegun 26.4.17).
    """
    ninth = 2.0 / (9.0 * degrees)
    low, high = ((1.0 - ninth + z * math.sqrt(ninth)) ** 3 for z in (Z_95, -Z_95))
    return Likely(sd, sd / math.sqrt(low), sd / math.sqrt(high))


def _drag(notes: Sequence[TunedNote]) -> float | None:
    above = [note.final_cents for note in notes if note.start_cents > 0]
    below = [note.final_cents for note in notes if note.start_cents < 0]
    if not above or not below:
        return None
    return (sum(above) / len(above) - sum(below) / len(below)) / 2.0
