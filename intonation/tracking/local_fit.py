"""Local cubic fits to a phase, on windows of several lengths, each as long as the sound allows."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

WINDOWS = (13, 17, 23, 31, 41, 55, 73, 97, 129, 171)
"""Numbers of phase values, each about a third more than the one before."""

_DEGREE = 3


@dataclass(frozen=True, slots=True)
class Slopes:
    """Slopes of a phase at some places, from one window.

    Parameters
    ----------
    per_value
        Change of phase from value to value, shape ``(places,)``, radians.
    gain
        Standard error of it for noise of standard deviation 1 in each value, same shape.
    """

    per_value: Real
    gain: Real


def slopes(phase: Real, places: NDArray[np.intp], *, window: int, correlation: Real) -> Slopes:
    """Fit a cubic to the window around each place and return the slopes there.

    Parameters
    ----------
    phase
        Unwrapped, shape ``(values,)``, at least ``window`` of them.
    places
        Indices into ``phase``. Near the ends the window stays inside and is read off its centre.
    window
        Number of values, odd.
    correlation
        Autocorrelation of the noise at lags 0, 1, ...; zero beyond.
    """
    half = window // 2
    begins = np.clip(places - half, 0, phase.size - window)
    offsets = places - begins
    kernels, gains = _slope_kernels(window, tuple(correlation))
    views = np.lib.stride_tricks.sliding_window_view(phase, window)
    inner = offsets == half
    result = np.empty(places.size)
    result[inner] = views[begins[inner]] @ kernels[half]
    result[~inner] = np.einsum("ij,ij->i", views[begins[~inner]], kernels[offsets[~inner]])
    return Slopes(result, gains[offsets])


def residuals(phase: Real, *, window: int, correlation: Real) -> tuple[Real, float]:
    """Return what a local cubic leaves over, and how much of a noise's variance that is.

    Returns
    -------
    residuals
        Shape ``(values - window + 1,)``; the first belongs to the middle of the first window.
    fraction
        Expected variance of a residual for noise of variance 1.
    """
    kernel, fraction = _residual_kernel(window, tuple(correlation))
    return np.convolve(phase, kernel[::-1], mode="valid"), fraction


@lru_cache(maxsize=512)
def _slope_kernels(window: int, correlation: tuple[float, ...]) -> tuple[Real, Real]:
    """Return one kernel for each place in a window, shape ``(window, window)``, and their gains."""
    half = window // 2
    place = np.arange(-half, half + 1) / half
    powers = np.vander(place, _DEGREE + 1, increasing=True)
    derivative = np.zeros_like(powers)
    derivative[:, 1:] = powers[:, :-1] * np.arange(1, _DEGREE + 1) / half
    kernels = derivative @ np.linalg.pinv(powers)
    blurred = _correlated(kernels, correlation)
    return kernels, np.sqrt(np.sum(kernels * blurred, axis=1))


@lru_cache(maxsize=512)
def _residual_kernel(window: int, correlation: tuple[float, ...]) -> tuple[Real, float]:
    half = window // 2
    powers = np.vander(np.arange(-half, half + 1) / half, _DEGREE + 1, increasing=True)
    kernel = -np.linalg.pinv(powers)[0]
    kernel[half] += 1.0
    return kernel, float(np.sum(kernel * _correlated(kernel[None], correlation)[0]))


def _correlated(kernels: Real, correlation: tuple[float, ...]) -> Real:
    """Return each kernel times the correlation matrix of the noise."""
    result = correlation[0] * kernels
    for lag, value in enumerate(correlation[1:], start=1):
        if lag < kernels.shape[1]:
            result[:, lag:] += value * kernels[:, :-lag]
            result[:, :-lag] += value * kernels[:, lag:]
    return result


def longest_agreeing(estimates: Real, errors: Real, *, width: float) -> NDArray[np.intp]:
    """Choose for each place the longest window that agrees with all shorter ones.

    Parameters
    ----------
    estimates, errors
        Shape ``(windows, places)``, shortest window first, and their standard errors.
    width
        Half-width of the confidence intervals in standard errors.

    Notes
    -----
    Intersection of confidence intervals: A. Goldenshluger & A. Nemirovski, *On spatially adaptive
    estimation of nonparametric regression*, Math. Methods Statist. 6 (1997) 135; V. Katkovnik,
    *A new method for varying adaptive bandwidth selection*, IEEE Trans. Signal Process. 47 (1999)
    2567; both from memory.
    """
    highest_low = np.maximum.accumulate(estimates - width * errors, axis=0)
    lowest_high = np.minimum.accumulate(estimates + width * errors, axis=0)
    agree = np.logical_and.accumulate(highest_low <= lowest_high, axis=0)
    return np.asarray(np.sum(agree, axis=0) - 1, dtype=np.intp)
