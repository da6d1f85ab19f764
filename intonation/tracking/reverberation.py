"""How much later than it was played a note is heard in a room, from how it dies away."""

import math

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.demodulation import Baseband

Real = NDArray[np.float64]

_FALLEN_DB, _AT_THE_END_S, _LEAST_S = 9.0, 0.012, 0.02
_MOST_SHARE, _LATEST_S, _LEAST_PER_S = 0.5, 0.1, 20.0
_DECAY_DB = 10.0 / math.log(10.0)
_TINY = 1e-12


def delay_s(baseband: Baseband, *, release: int, rate_hz: float) -> float:
    """Return by how much a room delays the energy of a note on average.

    Parameters
    ----------
    baseband
        Ends after the release.
    release
        Sample at which the note was let go.
    rate_hz
        Sample rate.

    Notes
    -----
    The tail is taken to fall by so many decibels per second as at the end of what was heard of it;
    drawn back to the release, it gives the share of the reverberation in the sound. Its energy
    comes later by the time in which it falls to 1/e.
    """
    per_s = rate_hz / baseband.spacing
    begin = max(0, (release - baseband.first) // baseband.spacing)
    level_db = 20.0 * np.log10(baseband.amplitude[begin:] + _TINY)
    if level_db.size == 0:
        return 0.0
    lowest = int(np.argmin(level_db))
    fallen = int(np.argmax(level_db <= level_db[0] - _FALLEN_DB))
    last = round(_AT_THE_END_S * per_s)
    if fallen == 0 or lowest - last - fallen < _LEAST_S * per_s:
        return 0.0
    end_db = float(np.mean(level_db[lowest - last : lowest + 1])) - float(level_db[0])
    begin_db = float(level_db[fallen] - level_db[0])
    return _delay(begin_db, end_db, fallen / per_s, (lowest - 0.5 * last) / per_s)


def _delay(begin_db: float, end_db: float, begin_s: float, end_s: float) -> float:
    """Return the delay from the levels at two times after the release."""
    fall_per_s = max((begin_db - end_db) / (end_s - begin_s), _LEAST_PER_S)
    share = min(10.0 ** ((end_db + fall_per_s * end_s) / 10.0), _MOST_SHARE)
    return float(min(share * _DECAY_DB / fall_per_s, _LATEST_S))
