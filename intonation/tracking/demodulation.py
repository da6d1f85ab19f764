"""Bring every partial of a note down to zero frequency, so that only its deviation is left."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

SHORTEST_AVERAGE_S = 0.006
MOST_PARTIALS = 8
_HIGHEST_FRACTION = 0.42


@dataclass(frozen=True, slots=True)
class Baseband:
    """The partials of a note, each turned back by the course of a presumed fundamental.

    Parameters
    ----------
    first
        Sample at which the first value belongs; the others follow every ``spacing`` samples.
    spacing
        Samples from value to value.
    average
        Each value is a weighted mean over twice so many samples (a triangle).
    presumed_phase
        What was turned back from the fundamental at every value, radians, shape ``(values,)``.
    partials
        Complex amplitudes, shape ``(partials, values)``.
    """

    first: int
    spacing: int
    average: int
    presumed_phase: Real
    partials: Complex

    @property
    def count(self) -> int:
        """Number of values."""
        return int(self.partials.shape[1])

    @property
    def amplitude(self) -> Real:
        """RMS amplitude of all partials together, shape ``(values,)``."""
        return np.asarray(np.sqrt(0.5 * np.sum(np.abs(self.partials) ** 2, axis=0)))

    def between(self, begin: int, end: int) -> "Baseband":
        """Return the values whose whole averages lie between two samples."""
        last = self.first + (self.count - 1) * self.spacing
        skip = max(0, -(-(begin + self.average - self.first) // self.spacing))
        drop = max(0, -((end - self.average - last) // self.spacing))
        kept = slice(skip, max(skip, self.count - drop))
        return Baseband(
            self.first + skip * self.spacing,
            self.spacing,
            self.average,
            self.presumed_phase[kept],
            self.partials[:, kept],
        )


def demodulate(
    samples: Real,
    *,
    begin: int,
    presumed_hz: Real,
    rate_hz: float,
    spacing: int,
) -> Baseband:
    """Return the baseband of a stretch; it may be too short for a single value.

    Parameters
    ----------
    samples, begin
        The stretch, shape ``(samples,)``, and the number of its first sample.
    presumed_hz
        The presumed fundamental at each sample, same shape.
    rate_hz
        Sample rate.
    spacing
        Samples from value to value; values lie at multiples of it.

    Notes
    -----
    The mean runs over a whole number of periods twice, so that every other partial falls on a
    double zero of it.
    """
    f0_hz = float(np.median(presumed_hz))
    average = _whole_periods(f0_hz, rate_hz)
    first = -(-(begin + average) // spacing) * spacing
    count = max(0, (begin + samples.size - average - first - 1) // spacing + 1)
    phase = np.cumsum(presumed_hz) * (2.0 * np.pi / rate_hz)
    turn_back = np.cos(phase) - 1j * np.sin(phase)
    orders = max(1, min(MOST_PARTIALS, int(_HIGHEST_FRACTION * rate_hz / f0_hz)))
    places = first - begin + spacing * np.arange(count)
    partials = np.empty((orders, count), dtype=np.complex128)
    turned = samples.astype(np.complex128)
    for order in range(orders):
        turned = turned * turn_back
        partials[order] = 2.0 * _triangle_means(turned, average, places)
    return Baseband(first, spacing, average, phase[places], partials)


def _whole_periods(f0_hz: float, rate_hz: float) -> int:
    periods = max(1, round(SHORTEST_AVERAGE_S * f0_hz))
    return round(periods * rate_hz / f0_hz)


def _triangle_means(values: Complex, width: int, places: NDArray[np.intp]) -> Complex:
    """Return the mean under a triangle of half-width ``width`` about each place."""
    sums = np.zeros(values.size + 2, dtype=np.complex128)
    np.cumsum(values, out=sums[2:])
    np.cumsum(sums[2:], out=sums[2:])
    before, at, after = (sums[places + 1 + by] for by in (-width, 0, width))
    return np.asarray((before - 2.0 * at + after) / float(width * width))
