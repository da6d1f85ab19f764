"""A short, soft test signal, and what can be told from how it comes back through the microphone."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

CHIRP_S, PAUSE_S, TONE_S = 0.25, 0.5, 2.0
TONE_HZ = 1000.0
_FADE_S = 0.02
_LEVEL = 0.02
"""RMS of chirp and tone: −34 dBFS, soft even in headphones that are turned up."""

_LATEST_S = 1.5
_CHIRP_HZ = (500.0, 6000.0)
_STANDS_OUT = 8.0
"""How much higher than usual the likeness to the chirp must be where the chirp is."""

_STEADY = 0.3
"""Largest scatter of the tone's complex amplitude, relative to itself, if a tone is there."""

_PIECES = 8


@dataclass(frozen=True, slots=True)
class ProbeReturn:
    """How the test signal came back.

    Parameters
    ----------
    noise_db
        RMS level in dBFS of what the microphone hears when nothing is played.
    delay_samples
        Samples between asking for the signal and hearing it; None if it was not heard.
    leak_db
        Level of the tone as it came back, relative to as it was played; None if not heard.
    clock_ppm
        How much faster the output's clock runs than the microphone's, in parts per million.
    """

    noise_db: float
    delay_samples: int | None
    leak_db: float | None
    clock_ppm: float | None


def probe_signal(sample_rate_hz: float) -> NDArray[np.float32]:
    """Return the test signal: a chirp that rises for a quarter second, a pause, a steady tone."""
    lowest_hz, highest_hz = _CHIRP_HZ
    at_s = np.arange(round(CHIRP_S * sample_rate_hz)) / sample_rate_hz
    chirp = _sine(lowest_hz * at_s + (highest_hz - lowest_hz) / (2.0 * CHIRP_S) * at_s**2)
    tone_at_s = np.arange(round(TONE_S * sample_rate_hz)) / sample_rate_hz
    tone = _sine(TONE_HZ * tone_at_s)
    pause = np.zeros(round(PAUSE_S * sample_rate_hz))
    parts = [_faded(chirp, sample_rate_hz), pause, _faded(tone, sample_rate_hz)]
    return (_LEVEL * np.concatenate(parts)).astype(np.float32)


def probe_return(
    heard: NDArray[np.float32], *, sample_rate_hz: float, played_at: int
) -> ProbeReturn:
    """Return what can be told from what the microphone has heard.

    Parameters
    ----------
    heard
        Everything since the microphone was opened, silence before the signal included.
    sample_rate_hz
        Its sample rate; that of the output may be another one.
    played_at
        How many samples had been heard when the signal was sent to the output.

    Notes
    -----
    The delay is the peak of the cross-correlation with the chirp. The tone's level and the clock
    ratio come from its complex amplitude in successive pieces: the phase of a tone that is played
    by a faster clock runs ahead evenly.
    """
    samples = heard.astype(np.float64)
    noise_db = _level_db(samples[played_at // 2 : played_at])
    delay = _delay(samples[played_at:], sample_rate_hz)
    if delay is None:
        return ProbeReturn(noise_db, None, None, None)
    start = played_at + delay + round((CHIRP_S + PAUSE_S + _FADE_S) * sample_rate_hz)
    tone = samples[start : start + round((TONE_S - 2 * _FADE_S) * sample_rate_hz)]
    leak_db, clock_ppm = _tone_return(tone, sample_rate_hz)
    return ProbeReturn(noise_db, delay, leak_db, clock_ppm)


def _sine(cycles: NDArray[np.floating]) -> Real:
    return np.asarray(np.sqrt(2.0) * np.sin(2.0 * np.pi * cycles))


def _faded(samples: Real, sample_rate_hz: float) -> Real:
    length = round(_FADE_S * sample_rate_hz)
    rise = 0.5 - 0.5 * np.cos(np.pi * np.arange(length) / length)
    samples[:length] *= rise
    samples[-length:] *= rise[::-1]
    return samples


def _delay(heard: Real, sample_rate_hz: float) -> int | None:
    chirp = probe_signal(sample_rate_hz)[: round(CHIRP_S * sample_rate_hz)].astype(np.float64)
    heard = heard[: round((_LATEST_S + CHIRP_S) * sample_rate_hz)]
    size = heard.size + chirp.size
    spectrum = np.fft.rfft(heard, size) * np.fft.rfft(chirp, size).conj()
    likeness = np.abs(np.fft.irfft(spectrum, size)[: max(0, heard.size - chirp.size)])
    if likeness.size == 0 or not np.any(likeness):
        return None
    peak = int(np.argmax(likeness))
    return peak if likeness[peak] > _STANDS_OUT * np.median(likeness) else None


def _tone_return(tone: Real, sample_rate_hz: float) -> tuple[float | None, float | None]:
    length = tone.size // _PIECES
    if length < 1:
        return None, None
    time_s = np.arange(_PIECES * length) / sample_rate_hz
    shifted = tone[: time_s.size] * np.exp(-2j * np.pi * TONE_HZ * time_s)
    window = np.hanning(length)
    pieces = shifted.reshape(_PIECES, length) @ window / np.sum(window)
    at_s = np.arange(_PIECES) * length / sample_rate_hz
    offset_hz, begin = np.polyfit(at_s, np.unwrap(np.angle(pieces)) / (2.0 * np.pi), 1)
    amplitudes = pieces * np.exp(-2j * np.pi * (begin + offset_hz * at_s))
    amplitude = abs(np.mean(amplitudes))
    if amplitude == 0.0 or np.std(amplitudes) > _STEADY * amplitude:
        return None, None
    # the tone's complex amplitude is half its peak, hence its RMS over the square root of two
    leak_db = 20.0 * np.log10(np.sqrt(2.0) * amplitude / _LEVEL)
    return float(leak_db), float(1e6 * offset_hz / TONE_HZ)


def _level_db(samples: Real) -> float:
    return float(10.0 * np.log10(np.mean(samples**2) + 1e-12)) if samples.size else -120.0
