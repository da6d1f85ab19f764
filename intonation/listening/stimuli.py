"""The samples of a trial: sums of exact partials, and nothing but the pitch to tell versions by."""

import math

import numpy as np
from numpy.typing import NDArray

from intonation.listening.trials import HeardTone, Trial

SAMPLE_RATE_HZ = 48_000
RISE_S, FALL_S = 0.06, 0.08
"""Half-cosine beginnings and ends, too slow to click."""

HIGHEST_PARTIAL_HZ = 12_000.0
CEILING = 0.7
"""No trial comes near this value; if one ever did, the whole of it would be made softer."""


def rendered(
    trial: Trial, rng: np.random.Generator, *, sample_rate_hz: int = SAMPLE_RATE_HZ
) -> NDArray[np.float32]:
    """Return the samples of a trial.

    Parameters
    ----------
    trial
        What sounds.
    rng
        Draws the starting phase of every partial, so that beats begin anywhere in their course.
    sample_rate_hz
        Rate of the samples.

    Returns
    -------
    ndarray
        float32, full scale 1, shape ``(samples,)``.
    """
    samples = np.zeros(math.ceil(trial.duration_s * sample_rate_hz))
    for tone in trial.tones:
        first = round(tone.start_s * sample_rate_hz)
        sound = tone_samples(tone, rng, sample_rate_hz=sample_rate_hz)[: samples.size - first]
        samples[first : first + sound.size] += sound
    peak = float(np.max(np.abs(samples)))
    return (samples * min(1.0, CEILING / peak)).astype(np.float32)


def tone_samples(
    tone: HeardTone, rng: np.random.Generator, *, sample_rate_hz: int = SAMPLE_RATE_HZ
) -> NDArray[np.float64]:
    """Return the samples of one tone, its RMS level being that of its steady part."""
    count = round(tone.duration_s * sample_rate_hz)
    cycles = np.arange(count) * (tone.hz / sample_rate_hz)
    samples = np.zeros(count)
    for number, amplitude in enumerate(_amplitudes(tone), start=1):
        samples += amplitude * np.sin(2.0 * np.pi * (number * cycles + rng.random()))
    return samples * _envelope(count, sample_rate_hz)


def _amplitudes(tone: HeardTone) -> NDArray[np.float64]:
    """Return the amplitude of each partial that fits."""
    fitting = max(1, int(HIGHEST_PARTIAL_HZ / tone.hz))
    levels_db = np.array(tone.timbre.partial_levels_db[:fitting])
    octaves = np.log2(np.arange(1, levels_db.size + 1))
    power = 10.0 ** ((levels_db + tone.brightness_db * octaves) / 10.0)
    power *= 2.0 * 10.0 ** (tone.level_db / 10.0) / power.sum()
    return np.asarray(np.sqrt(power))


def _envelope(count: int, sample_rate_hz: int) -> NDArray[np.float64]:
    envelope = np.ones(count)
    rise = min(round(RISE_S * sample_rate_hz), count // 2)
    fall = min(round(FALL_S * sample_rate_hz), count // 2)
    envelope[:rise] = 0.5 - 0.5 * np.cos(np.pi * np.arange(rise) / rise)
    envelope[count - fall :] = 0.5 + 0.5 * np.cos(np.pi * np.arange(1, fall + 1) / fall)
    return envelope
