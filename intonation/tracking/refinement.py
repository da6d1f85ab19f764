"""From a rough course of the fundamental to a fine one: the common phase of all partials."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.demodulation import Baseband
from intonation.tracking.local_fit import WINDOWS, longest_agreeing, residuals, slopes

Real = NDArray[np.float64]

VALUES_PER_HOP = 4
_AGREEMENT = 1.7
_BENDING_SHARE, _BENDING_REACH, _LEAST_BENDING = 0.8, 31, 1.1
"""How the error grows with that: found in simulation with wander, swells, vibrato and rooms."""
_NOISE_WINDOW = 23
_SMOOTHING = 61
_CENTS = 1200.0 / np.log(2.0)
_LEAST_SNR = 4.0
_LEAKAGE, _FAINTEST = 1e-9, 1e-7
"""Shares of the strongest partial's power that others may leave in the place of one not there."""


@dataclass(frozen=True, slots=True)
class FineCourse:
    """The fundamental at every hop of a stretch.

    Parameters
    ----------
    hops
        Numbers of the hops, shape ``(hops,)``.
    f0_hz
        Fundamental, same shape.
    error_cents
        Its standard error, same shape.
    window_s
        Length of the window that it comes from, same shape.
    partials_db
        RMS level of the partials together in dBFS, same shape.
    """

    hops: NDArray[np.intp]
    f0_hz: Real
    error_cents: Real
    window_s: Real
    partials_db: Real


def refine(baseband: Baseband, *, rate_hz: float, hop_samples: int) -> FineCourse | None:
    """Return the fine course of a stretch in which one note sounds, or None if it is too short.

    Parameters
    ----------
    baseband
        Its partials; values every ``hop_samples / VALUES_PER_HOP`` samples.
    rate_hz, hop_samples
        Sample rate and samples per hop.
    """
    if baseband.count < WINDOWS[0]:
        return None
    spacing = baseband.spacing
    hop_from = -(-baseband.first // hop_samples)
    hop_to = (baseband.first + (baseband.count - 1) * spacing) // hop_samples
    hops = np.arange(hop_from, hop_to + 1)
    places = (hops * hop_samples - baseband.first) // spacing
    phase, noise = _common_phase(baseband)
    per_value, gain, window = _adapted_slopes(phase, noise, places, _correlation(baseband))
    to_hz = rate_hz / spacing / (2.0 * np.pi)
    f0_hz = to_hz * per_value
    return FineCourse(
        hops,
        f0_hz,
        _CENTS * to_hz * gain / f0_hz,
        window * spacing / rate_hz,
        _smooth_level_db(baseband)[places],
    )


def _smooth_level_db(baseband: Baseband) -> Real:
    power = 0.5 * np.sum(np.abs(baseband.partials) ** 2, axis=0)
    padded = np.pad(power, VALUES_PER_HOP // 2, mode="edge")
    mean = np.convolve(padded, np.ones(VALUES_PER_HOP + 1) / (VALUES_PER_HOP + 1), mode="valid")
    return np.asarray(10.0 * np.log10(mean + 1e-30))


def _common_phase(baseband: Baseband) -> tuple[Real, Real]:
    """Return the phase of the fundamental that all partials agree on, and its noise at each value.

    Partial ``h`` carries ``h`` times the phase; weighted by ``h`` squared times its signal-to-noise
    ratio, the mean of all is the maximum-likelihood one when the noise is small.
    """
    orders = np.arange(1, baseband.partials.shape[0] + 1)[:, None]
    signal = np.median(np.abs(baseband.partials) ** 2, axis=1)
    strongest = float(np.max(signal))
    snr = signal / (_partial_noise(baseband) + _LEAKAGE * strongest + 1e-30)
    snr = np.where((snr >= _LEAST_SNR) & (signal >= _FAINTEST * strongest), snr, 0.0)
    if not np.any(snr):
        snr[0] = 1.0
    phases = np.unwrap(np.angle(baseband.partials), axis=1) / orders
    phases -= np.mean(phases, axis=1, keepdims=True)
    weights = orders[:, 0] ** 2 * snr
    phase = baseband.presumed_phase + weights @ phases / np.sum(weights)
    return phase, _noise_level(phase, _correlation(baseband))


def _partial_noise(baseband: Baseband) -> Real:
    """Return the mean-square deviation of each partial from its own smooth course."""
    window = min(_NOISE_WINDOW, baseband.count - (1 - baseband.count % 2))
    correlation = _correlation(baseband)
    noise = np.empty(baseband.partials.shape[0])
    for order, partial in enumerate(baseband.partials):
        real, fraction = residuals(partial.real, window=window, correlation=correlation)
        imaginary, _ = residuals(partial.imag, window=window, correlation=correlation)
        noise[order] = np.mean(real**2 + imaginary**2) / fraction
    return noise


def _noise_level(phase: Real, correlation: Real) -> Real:
    """Return the standard deviation of the noise in a phase, at each value."""
    window = min(_NOISE_WINDOW, phase.size - (1 - phase.size % 2))
    rest, fraction = residuals(phase, window=window, correlation=correlation)
    square = rest**2 / fraction
    overall = float(np.mean(square))
    reach = min(_SMOOTHING, square.size - (1 - square.size % 2))
    local = np.convolve(square, np.ones(reach) / reach, mode="valid")
    padded = np.pad(local, (phase.size - local.size) // 2, mode="edge")
    return np.sqrt(0.5 * np.resize(padded, phase.size) + 0.5 * overall) + 1e-9


def _adapted_slopes(
    phase: Real, noise: Real, places: NDArray[np.intp], correlation: Real
) -> tuple[Real, Real, Real]:
    """Return slope, standard error and window at each place, from the longest that agrees."""
    windows = [window for window in WINDOWS if window <= phase.size]
    found = [slopes(phase, places, window=w, correlation=correlation) for w in windows]
    estimates = np.array([f.per_value for f in found])
    errors = np.array([f.gain for f in found]) * noise[places]
    chosen = longest_agreeing(estimates, errors, width=_AGREEMENT)
    columns = np.arange(places.size)
    lengths = np.array(windows, dtype=np.float64)[chosen]
    error = errors[chosen, columns] * _bending(estimates, errors, chosen)
    return estimates[chosen, columns], error, lengths


def _bending(estimates: Real, errors: Real, chosen: NDArray[np.intp]) -> Real:
    """Return by what factor the error at each place is larger than noise alone would make it.

    Where a pitch bends more than a cubic phase can, or the noise is not what it seems, the chosen
    window and the next shorter one differ by more than their noise: nested least-squares fits
    differ by the difference of their variances.
    """
    columns = np.arange(chosen.size)
    shorter = np.maximum(chosen - 1, 0)
    apart = (estimates[shorter, columns] - estimates[chosen, columns]) ** 2
    expected = errors[shorter, columns] ** 2 - errors[chosen, columns] ** 2
    ratio = np.where(chosen > 0, apart / np.where(chosen > 0, expected, 1.0), 0.0)
    reach = np.ones(min(_BENDING_REACH, 2 * chosen.size - 1))
    counted = np.convolve(chosen > 0, reach, mode="same")
    mean = np.convolve(ratio, reach, mode="same") / np.maximum(counted, 1.0)
    return np.asarray(np.maximum(_LEAST_BENDING, _BENDING_SHARE * mean[: chosen.size]))


def _correlation(baseband: Baseband) -> Real:
    """Return the autocorrelation of white noise after the triangle, at lags of whole values."""
    lags = np.arange(0.0, 2.0 * baseband.average, baseband.spacing) / baseband.average
    near = 1.0 - 1.5 * lags**2 + 0.75 * lags**3
    return np.asarray(np.round(np.where(lags < 1.0, near, 0.25 * (2.0 - lags) ** 3), 3), np.float64)
