"""The samples of a trial: sums of exact partials, and nothing but the pitch to tell versions by."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.listening.trials import HeardTone, Trial

SAMPLE_RATE_HZ = 48_000
RISE_S, FALL_S = 0.06, 0.08
"""Half-cosine beginnings and ends, too slow to click."""

HIGHEST_PARTIAL_HZ = 12_000.0
_NEIGHBOURS = 0.04
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
        Draws the phases.
    sample_rate_hz
        Rate of the samples.

    Returns
    -------
    ndarray
        float32, full scale 1, shape ``(samples,)``.
    """
    samples = np.zeros(math.ceil(trial.duration_s * sample_rate_hz))
    for tone, partials in zip(trial.tones, _all_partials(trial.tones, rng), strict=True):
        first = round(tone.start_s * sample_rate_hz)
        count = min(round(tone.duration_s * sample_rate_hz), samples.size - first)
        time_s = (first + np.arange(count)) / sample_rate_hz
        sound = sum(partial.at(time_s) for partial in partials)
        samples[first : first + count] += sound * _envelope(count, sample_rate_hz)
    peak = float(np.max(np.abs(samples)))
    return (samples * min(1.0, CEILING / peak)).astype(np.float32)


@dataclass(frozen=True, slots=True)
class _Partial:
    """One sinusoid: frequency, amplitude, and its phase in cycles at the start of the trial."""

    hz: float
    amplitude: float
    phase: float

    def at(self, time_s: NDArray[np.float64]) -> NDArray[np.float64]:
        cycles = self.hz * time_s + self.phase
        return self.amplitude * np.asarray(np.sin(2.0 * np.pi * cycles))


def _all_partials(
    tones: Sequence[HeardTone], rng: np.random.Generator
) -> Iterator[tuple[_Partial, ...]]:
    """Yield the partials of each tone, phased so that neighbours add up to their mean power.

    Two partials at one frequency would be louder or softer than two that beat, depending on their
    phases, and so betray which version is in tune. A quarter of a cycle apart in the middle of
    the time they share, they have the same power as beating ones.
    """
    before: list[tuple[HeardTone, tuple[_Partial, ...]]] = []
    for tone in tones:
        amplitudes = enumerate(_amplitudes(tone), start=1)
        partials = tuple(
            _Partial(n * tone.hz, float(each), _phase(n * tone.hz, tone, before, rng))
            for n, each in amplitudes
        )
        before.append((tone, partials))
        yield partials


def _phase(
    hz: float,
    tone: HeardTone,
    before: Sequence[tuple[HeardTone, tuple[_Partial, ...]]],
    rng: np.random.Generator,
) -> float:
    for other, partials in before:
        start_s, end_s = max(tone.start_s, other.start_s), min(tone.end_s, other.end_s)
        near = [each for each in partials if abs(each.hz - hz) < _NEIGHBOURS * hz]
        if near and start_s < end_s:
            quarter = float(rng.choice((-0.25, 0.25)))
            middle_s = (start_s + end_s) / 2.0
            return near[0].phase + (near[0].hz - hz) * middle_s + quarter
    return float(rng.random())


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
