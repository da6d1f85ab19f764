"""Where exactly a note begins to sound and where it is let go, from the level of its partials."""

import math

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.demodulation import Baseband

Real = NDArray[np.float64]

_ONSET_DB, _RISEN_DB, _ONSET_LOOK_S = 16.0, 6.0, 0.2
_FARTHEST_BACK_S = 0.02
_RELEASE_DB, _RELEASE_LOOK_S = 2.5, 0.02
_RELEASE_SEEN_LATE_S = 0.004
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
    A release falls faster than a breath vibrato does, so each level is held against those shortly
    before it. The first 2.5 dB of a usual release take some milliseconds.
    """
    level_db = _level_db(baseband)
    look = round(_RELEASE_LOOK_S * rate_hz / baseband.spacing)
    if level_db.size <= look:
        return baseband.first + baseband.count * baseband.spacing
    before_db = np.max(np.lib.stride_tricks.sliding_window_view(level_db, look + 1), axis=1)
    steady = np.flatnonzero(level_db[look:] >= before_db - _RELEASE_DB)
    place = int(steady[-1]) + look if steady.size else 0
    return baseband.first + place * baseband.spacing - round(_RELEASE_SEEN_LATE_S * rate_hz)


def _level_db(baseband: Baseband) -> Real:
    power = 0.5 * np.sum(np.abs(baseband.partials) ** 2, axis=0)
    return np.asarray(10.0 * np.log10(power + _TINY))
