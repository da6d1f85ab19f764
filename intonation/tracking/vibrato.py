"""The sinusoid in the course of a pitch: rate and extent of a vibrato, and the line beneath it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

SLOWEST_HZ, FASTEST_HZ = 2.0, 9.0
_LEAST_CYCLES = 2.5
_LEAST_CENTS = 2.5
_LEAST_SHARE = 0.6
_REFINEMENTS = 4


@dataclass(frozen=True, slots=True)
class Vibrato:
    """A vibrato.

    Parameters
    ----------
    rate_hz
        Cycles per second.
    extent_cents
        Half of peak to peak.
    drift_cents_per_s
        Slope of the line about which it swings.
    """

    rate_hz: float
    extent_cents: float
    drift_cents_per_s: float


def vibrato_in(time_s: Real, cents: Real) -> Vibrato | None:
    """Return the vibrato in a pitch course, or None if there is none to speak of.

    Parameters
    ----------
    time_s, cents
        Evenly spaced, shape ``(frames,)``.

    Notes
    -----
    Straight line and sinusoid are fitted together; the rate starts at the peak of a periodogram and
    goes on by Gauss-Newton steps.
    """
    length_s = float(time_s[-1] - time_s[0])
    if length_s * FASTEST_HZ < _LEAST_CYCLES or time_s.size < 20:
        return None
    centred = time_s - np.mean(time_s)
    rest = cents - _fitted(np.stack([np.ones_like(centred), centred], axis=1), cents)
    rate_hz = _periodogram_peak_hz(centred, rest)
    if rate_hz is None or rate_hz * length_s < _LEAST_CYCLES:
        return None
    for _ in range(_REFINEMENTS):
        columns = _columns(centred, rate_hz)
        _, drift, cosine, sine = np.linalg.lstsq(columns, cents, rcond=None)[0]
        derivative = 2.0 * np.pi * centred * (sine * columns[:, 2] - cosine * columns[:, 3])
        step = np.linalg.lstsq(np.column_stack([columns, derivative]), cents, rcond=None)[0][4]
        rate_hz += float(np.clip(step, -0.3, 0.3))
    left = cents - _fitted(_columns(centred, rate_hz), cents)
    extent = float(np.hypot(cosine, sine))
    share = 1.0 - float(np.sum(left**2) / (np.sum(rest**2) + 1e-12))
    if not SLOWEST_HZ <= rate_hz <= FASTEST_HZ or extent < _LEAST_CENTS or share < _LEAST_SHARE:
        return None
    return Vibrato(rate_hz, extent, float(drift))


def _periodogram_peak_hz(centred: Real, rest: Real) -> float | None:
    spacing_s = float(centred[1] - centred[0])
    size = 1 << int(np.ceil(np.log2(8 * rest.size)))
    power = np.abs(np.fft.rfft(rest * np.hanning(rest.size + 2)[1:-1], size)) ** 2
    rates_hz = np.fft.rfftfreq(size, spacing_s)
    inside = np.flatnonzero((rates_hz >= SLOWEST_HZ) & (rates_hz <= FASTEST_HZ))
    if inside.size == 0:
        return None
    return float(rates_hz[inside[np.argmax(power[inside])]])


def _columns(centred: Real, rate_hz: float) -> Real:
    turn = 2.0 * np.pi * rate_hz * centred
    return np.stack([np.ones_like(centred), centred, np.cos(turn), np.sin(turn)], axis=1)


def _fitted(columns: Real, values: Real) -> Real:
    return np.asarray(columns @ np.linalg.lstsq(columns, values, rcond=None)[0])
