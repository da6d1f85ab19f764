"""Bring sound of any sample rate to one that holds a recorder's partials, in equal steps."""

import math

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

LOWEST_RATE_HZ = 14_000.0
"""Partials to above 5.8 kHz are kept; a recorder has little energy above 5 kHz."""

HOP_S = 0.01
HOPS_PER_STEP = 2

_AT_ONCE = 16
_STOPBAND_DB = 70.0
_PASSBAND, _STOPBAND = 0.42, 0.58
"""As fractions of the new rate: what folds back lands above the passband."""


class Decimator:
    """Takes samples in pieces of any length and gives them back in steps of equal length.

    Parameters
    ----------
    sample_rate_hz
        Rate of what is fed.

    Notes
    -----
    Linear-phase low-pass, Kaiser window (J. F. Kaiser, *Nonrecursive digital filter design using
    the I0-sinh window function*, ISCAS 1974; from memory). Its delay is taken out: sample ``n``
    that comes out belongs to time ``n / rate_hz``. Because only whole steps are computed, the
    result does not depend on how the sound was cut when it was fed.
    """

    def __init__(self, sample_rate_hz: float) -> None:
        self._factor = max(1, int(sample_rate_hz // LOWEST_RATE_HZ))
        self.rate_hz = sample_rate_hz / self._factor
        self.hop_samples = round(HOP_S * self.rate_hz)
        self.step_samples = HOPS_PER_STEP * self.hop_samples
        self._taps = _low_pass(self._factor)
        self._delay = (self._taps.size - 1) // 2
        self._waiting: list[Real] = [np.zeros(self._delay)]
        self._waiting_count = self._delay

    def feed(self, samples: NDArray[np.floating]) -> list[Real]:
        """Take samples, shape ``(any,)``, and return the steps that they complete."""
        self._waiting.append(np.asarray(samples, dtype=np.float64))
        self._waiting_count += samples.size
        needed = self.step_samples * self._factor
        context = self._taps.size - 1
        if self._waiting_count < needed + context:
            return []
        held = np.concatenate(self._waiting)
        count = (held.size - context) // needed
        together = [
            self._filtered(held[k * needed : min(k + _AT_ONCE, count) * needed + context])
            for k in range(0, count, _AT_ONCE)
        ]
        steps = [
            some[first : first + self.step_samples]
            for some in together
            for first in range(0, some.size, self.step_samples)
        ]
        self._waiting = [held[count * needed :].copy()]
        self._waiting_count = self._waiting[0].size
        return steps

    def finish(self) -> list[Real]:
        """Return the last steps, filled up with silence."""
        return self.feed(np.zeros(self._delay + 2 * self.step_samples * self._factor))

    def _filtered(self, held: Real) -> Real:
        if self._factor == 1:
            return held.copy()
        count = (held.size - self._taps.size + 1) // self._factor
        total = np.zeros(count)
        for phase in range(self._factor):
            taps = self._taps[phase :: self._factor]
            strand = held[phase :: self._factor][: count + taps.size - 1]
            total += np.convolve(strand, taps, mode="valid")
        return total


def _low_pass(factor: int) -> Real:
    """Return taps of unit gain, symmetric, odd in number."""
    if factor == 1:
        return np.ones(1)
    beta = 0.1102 * (_STOPBAND_DB - 8.7)
    width = 2.0 * math.pi * (_STOPBAND - _PASSBAND) / factor
    half = math.ceil((_STOPBAND_DB - 8.0) / (2.285 * width) / 2.0)
    position = np.arange(-half, half + 1)
    cutoff = 0.5 * (_PASSBAND + _STOPBAND) / factor
    taps = 2.0 * cutoff * np.sinc(2.0 * cutoff * position) * np.kaiser(2 * half + 1, beta)
    return np.asarray(taps / np.sum(taps))
