"""Where exactly a note begins to sound and where it is let go, from the level of its partials."""

import math

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.demodulation import Baseband

Real = NDArray[np.float64]

_ONSET_DB, _RISEN_DB, _ONSET_LOOK_S = 16.0, 6.0, 0.2
_FARTHEST_BACK_S = 0.02
_HIGH, _LOW, _FALL_S, _LET_GO_S = 0.75, 0.35, 0.08, 0.04
_AGREEING_STEPS = 4
_TINY = 1e-30


def onset_sample(baseband: Baseband, *, rate_hz: float) -> int:
    """Return the sample at which the partials begin to rise.

    Parameters
    ----------
    baseband
        Begins before the onset.
    rate_hz
        Sample rate.

    Notes
    -----
    The straight line through the amplitudes where they are 16 dB and 6 dB below their first level
    is drawn back to zero.
    """
    level_db = _level_db(baseband)
    if level_db.size == 0:
        return baseband.first
    look = round(_ONSET_LOOK_S * rate_hz / baseband.spacing)
    first_level_db = float(np.median(level_db[:look]))
    begun = int(np.argmax(level_db >= first_level_db - _ONSET_DB))
    risen = int(np.argmax(level_db >= first_level_db - _RISEN_DB))
    low, high = math.pow(10.0, -_ONSET_DB / 20.0), math.pow(10.0, -_RISEN_DB / 20.0)
    back = (risen - begun) * baseband.spacing * low / (high - low)
    back_samples = round(min(back, _FARTHEST_BACK_S * rate_hz))
    return max(0, baseband.first + begun * baseband.spacing - back_samples)


def release_sample(baseband: Baseband, *, rate_hz: float) -> int:
    """Return the last sample before the partials fall away for good.

    Parameters
    ----------
    baseband
        Ends after the release.
    rate_hz
        Sample rate.

    Notes
    -----
    The straight line through the amplitudes where they have fallen to 75 % and 35 % is drawn back
    to where it began. What it began from is not known beforehand where a breath vibrato moves the
    level; it is looked up where the line leads, until both agree.
    """
    per_s = rate_hz / baseband.spacing
    amplitude = _until_lowest(np.sqrt(_power(baseband)), round(_LET_GO_S * per_s))
    if amplitude.size == 0:
        return baseband.first
    start, level = 0, float(np.max(amplitude[-round(_FALL_S * per_s) :]))
    for _ in range(_AGREEING_STEPS):
        high, low = (int(np.flatnonzero(amplitude >= part * level)[-1]) for part in (_HIGH, _LOW))
        back = min((low - high) * (1.0 - _HIGH) / (_HIGH - _LOW), _FARTHEST_BACK_S * per_s)
        start = max(start, round(high - back))
        level = float(amplitude[start])
    return baseband.first + start * baseband.spacing


def _until_lowest(amplitude: Real, look: int) -> Real:
    """Leave away what rises again at the end: the next note."""
    before = max(0, amplitude.size - look)
    lowest = before + int(np.argmin(amplitude[before:])) if amplitude.size else 0
    return amplitude[: lowest + 1]


def _level_db(baseband: Baseband) -> Real:
    return np.asarray(10.0 * np.log10(_power(baseband) + _TINY))


def _power(baseband: Baseband) -> Real:
    return np.asarray(0.5 * np.sum(np.abs(baseband.partials) ** 2, axis=0))
