"""Where a note begins to sound, from the shape of its attack."""

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.demodulation import Baseband
from intonation.tracking.edge_shapes import Edge, Shapes, most_likely

Real = NDArray[np.float64]

_SHAPES = Shapes(
    (
        lambda part: np.sin(0.5 * np.pi * part) ** 2,
        lambda part: part,
        lambda part: part**1.5,
        lambda part: (1.0 - np.exp(-3.0 * part)) / (1.0 - np.exp(-3.0)),
    ),
    (0.005, 0.009, 0.014, 0.02, 0.028, 0.038, 0.05, 0.065, 0.085, 0.11),
)
_LEVEL_S, _RISEN, _BEGUN = 0.2, 0.7, 0.16
_QUIET_S, _EARLIEST_S, _BEFORE_S = 0.06, 0.1, 0.02
_RELATIVE_NOISE, _NOISE = 0.05, 0.03
"""How far an attack keeps to any such shape (design judgement)."""
_TINY = 1e-12


def onset_edge(baseband: Baseband, *, rate_hz: float) -> Edge:
    """Return where the partials begin to rise.

    Parameters
    ----------
    baseband
        Begins before the onset.
    rate_hz
        Sample rate.

    Notes
    -----
    Shapes of rise are fitted to the amplitude up to 70 % of the first level, each with the gain
    that suits it best; the onset is the mean of their begins, weighted by their likelihood.
    """
    per_s = rate_hz / baseband.spacing
    amplitude = baseband.amplitude
    if amplitude.size == 0:
        return Edge(baseband.first, 0.0)
    amplitude = amplitude / (float(np.median(amplitude[: round(_LEVEL_S * per_s)])) + _TINY)
    begun, risen = (int(np.argmax(amplitude >= part)) for part in (_BEGUN, _RISEN))
    values = np.arange(max(0, begun - round(_QUIET_S * per_s)), risen + 1)
    earliest = max(begun - round(_EARLIEST_S * per_s), -round(_BEFORE_S * per_s))
    moments = np.arange(earliest, risen + 1)
    shapes = _SHAPES.seen(values, moments, average=baseband.average / baseband.spacing, per_s=per_s)
    place, error = most_likely(_gains(shapes, amplitude[values]), moments)
    sample = baseband.first + round(place * baseband.spacing)
    return Edge(sample, error * baseband.spacing)


def _gains(shapes: Real, heard: Real) -> Real:
    floor = float(np.min(heard))
    rise = np.sqrt(np.maximum(heard**2 - floor**2, 0.0))
    weights = 1.0 / ((_RELATIVE_NOISE * rise) ** 2 + _NOISE**2 + floor**2)
    along = np.maximum(shapes @ (weights * rise), 0.0)
    return np.asarray(along**2 / (shapes**2 @ weights + _TINY))
