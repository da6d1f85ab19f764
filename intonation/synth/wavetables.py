"""One cycle of a voice as a table, limited to the partials that fit below a frequency."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from intonation.synth.voices import Voice

TABLE_BITS = 14
TABLE_SAMPLES = 1 << TABLE_BITS
HIGHEST_PARTIAL_HZ = 12_000.0
_SHARE_OF_SAMPLE_RATE = 0.42


@dataclass(frozen=True, slots=True, eq=False)
class Wavetable:
    """One cycle of a voice at unit RMS.

    Parameters
    ----------
    samples
        float32, shape (16384,).
    steps
        Difference from each sample to the next one, for linear interpolation; same shape.
    partial_levels_db
        RMS level of each partial relative to the RMS of the whole.
    peak
        Largest magnitude.
    """

    samples: NDArray[np.float32]
    steps: NDArray[np.float32]
    partial_levels_db: tuple[float, ...]
    peak: float


def partials_that_fit(voice: Voice, hz: float, *, sample_rate_hz: float) -> int:
    """Return how many partials of a voice lie below 12 kHz and well below half the sample rate."""
    highest_hz = min(HIGHEST_PARTIAL_HZ, _SHARE_OF_SAMPLE_RATE * sample_rate_hz)
    return max(1, min(len(voice.partial_levels_db), int(highest_hz / hz)))


@lru_cache(maxsize=128)
def wavetable(voice: Voice, partial_count: int) -> Wavetable:
    """Return one cycle of the first partials of a voice.

    Notes
    -----
    Linear interpolation in a table of N samples leaves, for partial h, an error of at most
    (2πh/N)²/8 of that partial: −82 dB of partial 32 here, which itself is 52 dB down.
    The phases follow M. R. Schroeder (IEEE Trans. Inf. Theory 16, 1970, 85; from memory): the
    phase of partial n bends by twice π times the power below it, so that the peak stays low.
    """
    levels_db = np.array(voice.partial_levels_db[:partial_count])
    power = 10.0 ** (levels_db / 10.0)
    power /= power.sum()
    below = np.concatenate(([0.0], np.cumsum(power)[:-1]))
    phases = -2.0 * np.pi * np.cumsum(below)
    spectrum = np.zeros(TABLE_SAMPLES // 2 + 1, dtype=complex)
    spectrum[1 : partial_count + 1] = np.sqrt(power / 2.0) * np.exp(1j * phases) * TABLE_SAMPLES
    cycle = np.fft.irfft(spectrum)
    return Wavetable(
        samples=cycle.astype(np.float32),
        steps=(np.roll(cycle, -1) - cycle).astype(np.float32),
        partial_levels_db=tuple(float(level) for level in 10.0 * np.log10(power)),
        peak=float(np.max(np.abs(cycle))),
    )
