"""Shapes by which an amplitude may rise or fall, and where they fit best what is heard."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]
Shape = Callable[[Real], Real]

_FINE = 5
"""Places of a shape in its table for each value of the amplitude."""
_LEAST_ERROR = 0.5


@dataclass(frozen=True, slots=True)
class Edge:
    """Where something begins, as a sample, and the standard error of that in samples."""

    sample: int
    error_samples: float


@dataclass(frozen=True, slots=True)
class Shapes:
    """Shapes from 0 before a moment to 1 after it.

    Parameters
    ----------
    kinds
        Functions of the part of the length that is over, from 0 to 1.
    lengths_s
        How long they take.
    """

    kinds: tuple[Shape, ...]
    lengths_s: tuple[float, ...]

    def seen(
        self, values: NDArray[np.intp], moments: NDArray[np.intp], *, average: float, per_s: float
    ) -> Real:
        """Return every shape of every length from every moment on, as an amplitude shows it.

        Parameters
        ----------
        values, moments
            When they are looked at, and when they begin, in values.
        average
            Half-width in values of the triangle that blurs the amplitude.
        per_s
            Values per second.

        Returns
        -------
        shapes
            Shape ``(kinds * lengths, moments, values)``.
        """
        before = max(1, int(moments[-1] - values[0]) + 1)
        after = max(1, int(values[-1] - moments[0]) + 1)
        table = _blurred(self, round(average * _FINE), before, after, per_s)
        return table[:, (values[None, :] - moments[:, None] + before) * _FINE]


@lru_cache(maxsize=64)
def _blurred(shapes: Shapes, average: int, before: int, after: int, per_s: float) -> Real:
    """Return the shapes from ``before`` values before their moment to ``after`` values after it."""
    places = np.arange(-before * _FINE - average, after * _FINE + average + 1) / (_FINE * per_s)
    triangle = 1.0 - np.abs(np.arange(-average, average + 1)) / (average + 1.0)
    triangle /= np.sum(triangle)
    parts = [np.clip(places / length_s, 0.0, 1.0) for length_s in shapes.lengths_s]
    return np.array(
        [np.convolve(kind(part), triangle, "valid") for kind in shapes.kinds for part in parts]
    )


def most_likely(gains: Real, moments: NDArray[np.intp]) -> tuple[float, float]:
    """Return the mean and the standard deviation of the moment over all shapes.

    Parameters
    ----------
    gains
        Twice the logarithm of the likelihood of each shape from each moment on, shape
        ``(shapes, moments)``; all are taken for equally likely beforehand.
    moments
        In values.
    """
    odds = np.sum(np.exp(0.5 * (gains - np.max(gains))), axis=0)
    odds /= np.sum(odds)
    mean = float(odds @ moments)
    return mean, max(_LEAST_ERROR, math.sqrt(float(odds @ (moments - mean) ** 2)))
