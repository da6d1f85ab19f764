"""How far noise moves the median of a pitch course whose neighbouring values share their noise."""

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

_NEAR = 2.0
_STILL, _MOVING = 0.03, 0.04
"""Shares of a frame's variance per window that do not cancel, in a still pitch and more in a moving
one: found in simulation."""
_EXCESS = 1.7
"""By what factor the variance is larger than that: found in simulation."""
_MEDIAN_OF_SQUARE = 0.455
"""Median of the square of a normal variable of variance 1: chi-squared tables, from memory."""
_PLACE = np.linspace(-1.0, 1.0, 81)
_KERNEL = 5.0 * _PLACE - 7.0 * _PLACE**3
"""By this shape the phases of a window count in the slope of a cubic at its middle."""
_SHARED = np.correlate(_KERNEL, _KERNEL, "full")[_PLACE.size - 1 :] / np.sum(_KERNEL**2)
_SHARED_LAG = np.linspace(0.0, 1.0, _SHARED.size)
"""Correlation of the errors of two windows, and how far apart they are, in windows."""


def median_noise_variance(cents: Real, error_cents: Real, window_s: Real, *, hop_s: float) -> float:
    """Return the variance of the median that comes from noise, in cents squared.

    Parameters
    ----------
    cents
        The course, as distance from its median, shape ``(frames,)``.
    error_cents, window_s
        Standard error of each frame, and length of the window that it comes from, same shape.
    hop_s
        Time from frame to frame.

    Notes
    -----
    A small error moves the median by the mean of the errors of the frames that lie near it, those
    that are well known before others. The errors of slopes of one phase cancel when they are
    averaged over more than a window. What does not cancel is the scatter of a course about a pitch
    that stands still, and what the windows flatten of a pitch that moves.
    """
    movement = float(np.median(np.abs(np.diff(cents)))) if cents.size > 1 else 0.0
    near = np.maximum(_NEAR * error_cents, max(movement, 1e-9))
    weights = np.exp(-0.5 * (cents / near) ** 2) / near + 1e-30
    weights /= np.sum(weights)
    variance = _variance_of_mean(weights * error_cents, window_s, hop_s)
    windows = max(1.0, hop_s * cents.size / float(weights @ window_s))
    uncancelled = _STILL + _MOVING * _moving_part(cents, error_cents)
    left = uncancelled * float(weights @ error_cents**2) / windows
    return _EXCESS * (max(variance, 0.0) + left)


def _moving_part(cents: Real, error_cents: Real) -> float:
    """Return which part of the course's scatter about a straight line is not noise."""
    places = np.arange(cents.size) - 0.5 * (cents.size - 1)
    rest = cents - np.mean(cents)
    rest -= places * float(places @ rest) / max(float(places @ places), 1.0)
    scatter = float(np.median(rest**2)) / _MEDIAN_OF_SQUARE
    return max(0.0, 1.0 - float(np.median(error_cents**2)) / max(scatter, 1e-18))


def _variance_of_mean(errors: Real, window_s: Real, hop_s: float) -> float:
    """Return the variance of a sum of errors that are shared as far as their windows overlap."""
    total = float(errors @ errors)
    reach = min(int(np.max(window_s) / hop_s), errors.size - 1) if hop_s > 0.0 else 0
    for lag in range(1, reach + 1):
        apart = 2.0 * lag * hop_s / (window_s[lag:] + window_s[:-lag])
        shared = np.interp(apart, _SHARED_LAG, _SHARED, right=0.0)
        total += 2.0 * float(np.sum(errors[lag:] * errors[:-lag] * shared))
    return total
