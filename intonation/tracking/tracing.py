"""From the fine course of a note to its trace: thinned to what can be drawn and kept."""

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.trace import CENTS_STEP, LEVEL_STEP_DB, MOST_POINTS, STEP_S, PitchTrace

Real = NDArray[np.float64]

_CENTS = 1200.0 / np.log(2.0)


def trace_of(
    time_s: Real, f0_hz: Real, level_db: Real, *, onset_s: float, offset_s: float, note_hz: float
) -> PitchTrace:
    """Return the trace of a note from its course.

    Parameters
    ----------
    time_s, f0_hz, level_db
        The course, each of shape ``(hops,)``.
    onset_s, offset_s
        Begin and end of the note.
    note_hz
        Frequency that cents are counted from.
    """
    long = max(offset_s - onset_s, STEP_S)
    step_s = STEP_S * np.ceil(long / (STEP_S * MOST_POINTS))
    points = int(np.ceil(long / step_s))
    place = np.floor((time_s - onset_s) / step_s).astype(np.intp)
    inside = (place >= 0) & (place < points)
    place, cents = place[inside], _CENTS * np.log(f0_hz[inside] / note_hz)
    power = 10.0 ** (level_db[inside] / 10.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        counted = np.bincount(place, minlength=points)
        mean_cents = np.bincount(place, cents, points) / counted
        mean_db = 10.0 * np.log10(np.bincount(place, power, points) / counted)
    return PitchTrace(float(step_s), _kept(mean_cents, CENTS_STEP), _kept(mean_db, LEVEL_STEP_DB))


def _kept(values: Real, step: float) -> tuple[float | None, ...]:
    """Return values rounded to a step; None for those that are not known."""
    rounded = np.round(np.round(values / step) * step, 2)
    return tuple(float(value) if np.isfinite(value) else None for value in rounded)
