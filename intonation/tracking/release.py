"""Where a note is let go, from how its level leaves the course that it kept until then."""

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.demodulation import Baseband
from intonation.tracking.edge_shapes import Edge, Shapes, most_likely

Real = NDArray[np.float64]

_SHAPES = Shapes(
    (
        lambda part: np.sin(0.5 * np.pi * part) ** 2,
        lambda part: part,
        lambda part: 1.0 - (1.0 - part) ** 2,
        lambda part: (1.0 - np.exp(-4.0 * part)) / (1.0 - np.exp(-4.0)),
    ),
    (0.01, 0.017, 0.026, 0.038, 0.055, 0.08, 0.115, 0.16),
)
_HIGH, _LOW, _FALL_S, _LET_GO_S = 0.75, 0.35, 0.08, 0.06
_FARTHEST_BACK_S, _AGREEING_STEPS = 0.02, 4
_LEVEL_S, _HELD_S, _FALLEN_S, _FALLEN = 0.06, 0.2, 0.08, 0.35
_EARLIEST_S, _LATEST_S = 0.12, 0.03
_ATTACK_S, _ROUGHLY_S, _LEAST_CALM_S = 0.12, 0.05, 0.1
_STRIDE = 2
_SLOPE_PER_S, _NOISE, _UNKNOWN_NOISE = 1.0, 0.01, 0.03
"""What a level may do that was not heard before (design judgement)."""
_TINY = 1e-12


def release_edge(baseband: Baseband, *, onset: int, rate_hz: float) -> Edge:
    """Return where the partials begin to fall away for good.

    Parameters
    ----------
    baseband
        Ends after the release.
    onset
        Sample at which the note began.
    rate_hz
        Sample rate.

    Notes
    -----
    Shapes of fall are fitted to the amplitude around the place where it roughly falls, by
    generalized least squares: the covariance of what a level does anyway, such as the wobble of a
    vibrato, is that of the same note before. The release is the mean of their begins, weighted by
    their likelihood.
    """
    per_s = rate_hz / baseband.spacing
    amplitude = _until_lowest(baseband.amplitude, round(_LET_GO_S * per_s))
    if amplitude.size == 0:
        return Edge(baseband.first, 0.0)
    rough = _rough_release(amplitude, per_s)
    level = float(np.median(amplitude[max(0, rough - round(_LEVEL_S * per_s)) : rough + 1]))
    amplitude = amplitude / (level + _TINY)
    values = _looked_at(amplitude, rough, per_s)
    earliest = max(int(values[0]), rough - round(_EARLIEST_S * per_s))
    latest = min(int(values[-1]), rough + round(_LATEST_S * per_s))
    moments = np.arange(earliest, latest + 1)
    settled = max(0, (onset - baseband.first) // baseband.spacing + round(_ATTACK_S * per_s))
    calm = amplitude[settled : max(rough - round(_ROUGHLY_S * per_s), 1) : _STRIDE]
    shapes = _SHAPES.seen(values, moments, average=baseband.average / baseband.spacing, per_s=per_s)
    covariance = _covariance(calm, values.size, _STRIDE / per_s)
    place, error = most_likely(_gains(shapes, amplitude[values], covariance), moments)
    sample = baseband.first + round(place * baseband.spacing)
    return Edge(sample, error * baseband.spacing)


def _looked_at(amplitude: Real, rough: int, per_s: float) -> NDArray[np.intp]:
    """Return which values are looked at: from well before the fall until most is gone."""
    low = np.flatnonzero(amplitude[rough:] < _FALLEN)
    fallen = int(low[0]) if low.size else amplitude.size
    last = min(rough + min(fallen, round(_FALLEN_S * per_s)), amplitude.size - 1)
    return np.arange(last, max(0, rough - round(_HELD_S * per_s)) - 1, -_STRIDE)[::-1]


def _gains(shapes: Real, heard: Real, covariance: Real) -> Real:
    inverse = np.linalg.inv(covariance)
    along = np.maximum(shapes @ (inverse @ (1.0 - heard)), 0.0)
    across = np.sum((shapes @ inverse) * shapes, axis=-1)
    return np.asarray(along**2 / (across + _TINY))


def _covariance(calm: Real, size: int, step_s: float) -> Real:
    """Return how levels move with each other: unknown at first, steep by little, and as before."""
    places_s = step_s * np.arange(size)
    lags = np.abs(np.arange(size)[:, None] - np.arange(size))
    unknown = 1.0 + _SLOPE_PER_S**2 * np.outer(places_s - places_s[-1], places_s - places_s[-1])
    known = np.zeros(size)
    known[0] = _NOISE**2
    if calm.size * step_s >= _LEAST_CALM_S:
        before = _autocovariance(calm)[:size]
        known[: before.size] += before
    else:
        known[0] += _UNKNOWN_NOISE**2
    return np.asarray(unknown + known[lags])


def _autocovariance(values: Real) -> Real:
    """Return the autocovariance about a straight line, biased towards zero at long lags."""
    places = np.arange(values.size) - 0.5 * (values.size - 1)
    rest = values - np.mean(values)
    rest -= places * (places @ rest) / (places @ places)
    power = np.abs(np.fft.rfft(rest, 2 * values.size)) ** 2
    return np.asarray(np.fft.irfft(power)[: values.size] / values.size)


def _rough_release(amplitude: Real, per_s: float) -> int:
    """Return about where the level falls for good.

    The straight line through the amplitudes where they have fallen to 75 % and 35 % is drawn back
    to where it began. What it began from is not known beforehand where a breath vibrato moves the
    level; it is looked up where the line leads, until both agree.
    """
    start, level = 0, float(np.max(amplitude[-round(_FALL_S * per_s) :]))
    for _ in range(_AGREEING_STEPS):
        high, low = (int(np.flatnonzero(amplitude >= part * level)[-1]) for part in (_HIGH, _LOW))
        back = min((low - high) * (1.0 - _HIGH) / (_HIGH - _LOW), _FARTHEST_BACK_S * per_s)
        start = max(start, round(high - back))
        level = float(amplitude[start])
    return start


def _until_lowest(amplitude: Real, look: int) -> Real:
    """Leave away what rises again at the end: the next note."""
    before = max(0, amplitude.size - look)
    lowest = before + int(np.argmin(amplitude[before:])) if amplitude.size else 0
    return amplitude[: lowest + 1]
