"""Where exactly a note begins to sound and where it is let go, from the level of its partials."""

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.demodulation import Baseband

Real = NDArray[np.float64]

_ONSET_DB, _RELEASE_DB = 10.0, 2.0
_LOOK_S = 0.1
_TINY = 1e-30


def onset_sample(baseband: Baseband, *, rate_hz: float) -> int:
    """Return the first sample at which the partials come within 10 dB of their first level.

    Parameters
    ----------
    baseband
        Begins before the onset.
    rate_hz
        Sample rate.
    """
    level_db = _level_db(baseband)
    if level_db.size == 0:
        return baseband.first
    look = round(_LOOK_S * rate_hz / baseband.spacing)
    first_level_db = float(np.median(level_db[: 2 * look]))
    place = int(np.argmax(level_db >= first_level_db - _ONSET_DB))
    return baseband.first + place * baseband.spacing


def release_sample(baseband: Baseband, *, rate_hz: float) -> int:
    """Return the last sample before the partials fall away for good.

    Parameters
    ----------
    baseband
        Ends after the release.
    rate_hz
        Sample rate.
    """
    level_db = _level_db(baseband)
    if level_db.size == 0:
        return baseband.first
    look = round(_LOOK_S * rate_hz / baseband.spacing)
    last_level_db = float(np.max(level_db[-look:]))
    place = int(np.flatnonzero(level_db >= last_level_db - _RELEASE_DB)[-1])
    return baseband.first + place * baseband.spacing


def _level_db(baseband: Baseband) -> Real:
    power = 0.5 * np.sum(np.abs(baseband.partials) ** 2, axis=0)
    return np.asarray(10.0 * np.log10(power + _TINY))
