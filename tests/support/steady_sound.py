"""Measures steady sounds made of known sinusoids: frequency, level, and what is left over."""

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]


def complex_amplitudes(
    samples: Samples, sample_rate_hz: float, partials_hz: list[float]
) -> Samples:
    """Return the least-squares complex amplitude of each sinusoid."""
    design = _sinusoids(samples.size, sample_rate_hz, partials_hz)
    solution = np.linalg.lstsq(design, samples, rcond=None)[0]
    half = len(partials_hz)
    return solution[:half] - 1j * solution[half:]


def residual_db(samples: Samples, sample_rate_hz: float, partials_hz: list[float]) -> float:
    """Return the level of everything that is none of these sinusoids, relative to the whole."""
    design = _sinusoids(samples.size, sample_rate_hz, partials_hz)
    rest = samples - design @ np.linalg.lstsq(design, samples, rcond=None)[0]
    return float(10.0 * np.log10(np.mean(rest**2) / np.mean(samples**2)))


def frequency_error_cents(samples: Samples, sample_rate_hz: float, *, expected_hz: float) -> float:
    """Return how far the sinusoid near ``expected_hz`` is off, from the slope of its phase."""
    time_s = np.arange(samples.size) / sample_rate_hz
    baseband = samples * np.exp(-2j * np.pi * expected_hz * time_s)
    half = samples.size // 2
    window = np.blackman(half)
    early, late = np.sum(window * baseband[:half]), np.sum(window * baseband[half : 2 * half])
    turn = np.angle(late / early) / (2.0 * np.pi)
    error_hz = turn * sample_rate_hz / half
    return float(1200.0 * np.log2(1.0 + error_hz / expected_hz))


def roughest_step_db(samples: Samples, sample_rate_hz: float, *, above_hz: float) -> float:
    """Return the peak of what lies above a frequency, relative to full scale.

    A click is a step in the sound or in its slope: it spreads over all frequencies, so that
    whatever appears above the highest partial is a click.
    """
    spectrum = np.fft.rfft(samples * np.blackman(samples.size))
    spectrum[: round(above_hz * samples.size / sample_rate_hz)] = 0.0
    peak = np.max(np.abs(np.fft.irfft(spectrum)))
    return float(20.0 * np.log10(peak + 1e-15))


def _sinusoids(count: int, sample_rate_hz: float, partials_hz: list[float]) -> Samples:
    angle = 2.0 * np.pi * np.outer(np.arange(count) / sample_rate_hz, partials_hz)
    return np.hstack([np.cos(angle), np.sin(angle)])
