"""A wavetable oscillator whose phase is a whole number, so that it never drifts.

The phase is a 64-bit fraction of a cycle and every sample adds a 64-bit step; overflow is the next
cycle. A frequency is therefore right to 2⁻⁵³, however long the tone sounds, and a cut of the stream
into blocks changes no bit of the result. A glide adds a constant to the step at every sample.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from intonation.synth.tones import Tone
from intonation.synth.voices import voice_named
from intonation.synth.wavetables import TABLE_BITS, partials_that_fit, wavetable

BLOCK_SAMPLES = 512
_CYCLE = 1 << 64
_INDEX_SHIFT = np.uint64(64 - TABLE_BITS)
_FRACTION_BITS = 24
_FRACTION_SHIFT = np.uint64(64 - TABLE_BITS - _FRACTION_BITS)
_FRACTION_MASK = np.uint64((1 << _FRACTION_BITS) - 1)
_FRACTION_UNIT = np.float32(2.0**-_FRACTION_BITS)

PLUCK_RISE_S = 0.008
PLUCK_FALL_S = 1.3
"""Time in which a plucked tone falls by 8.7 dB (to 1/e)."""


class Workspace:
    """Buffers for one block, allocated once and shared by all oscillators of a synthesiser."""

    def __init__(self) -> None:
        count = np.arange(BLOCK_SAMPLES, dtype=np.uint64)
        self.count = count
        self.triangle = count * (count - np.uint64(1)) // np.uint64(2)
        self.triangle[0] = 0
        self.phase = np.empty(BLOCK_SAMPLES, dtype=np.uint64)
        self.index = np.empty(BLOCK_SAMPLES, dtype=np.uint64)
        self.wave = np.empty(BLOCK_SAMPLES, dtype=np.float32)
        self.step = np.empty(BLOCK_SAMPLES, dtype=np.float32)
        self.fraction = np.empty(BLOCK_SAMPLES, dtype=np.float32)


class Oscillator:
    """One tone of the reference, at unit RMS before its gain."""

    def __init__(self, tone: Tone, *, sample_rate_hz: float) -> None:
        self.tone = tone
        self.voice = voice_named(tone.voice)
        fitting = partials_that_fit(self.voice, tone.hz, sample_rate_hz=sample_rate_hz)
        self.table = wavetable(self.voice, fitting)
        self.gain = 0.0
        self._sample_rate_hz = sample_rate_hz
        self._phase = 0
        self._step = round(tone.hz / sample_rate_hz * _CYCLE)
        self._glide = 0
        every_s = self.voice.plucked_every_s
        self._envelope = None if every_s is None else _pluck_envelope(every_s, sample_rate_hz)
        self._since_pluck = 0

    def take_over_from(self, other: "Oscillator", *, glide_samples: int) -> None:
        """Go on where another oscillator stands; both glide together to this one's frequency."""
        destination = self._step
        self._phase, self._step = other._phase, other._step
        self._glide = other._glide = (destination - other._step) // glide_samples
        if self.voice is other.voice:
            self._since_pluck = other._since_pluck

    def arrive(self) -> None:
        """End a glide exactly on the tone's own frequency."""
        self._glide = 0
        self._step = round(self.tone.hz / self._sample_rate_hz * _CYCLE)

    def add_to(self, mix: NDArray[np.float32], workspace: Workspace) -> None:
        """Add the next samples, times the gain, to ``mix`` (float32, at most one block)."""
        count = mix.size
        wave = self._interpolate(count, workspace)
        if self._envelope is not None:
            wave *= self._next_envelope(count, workspace)
        wave *= self.gain
        mix += wave

    def _interpolate(self, count: int, workspace: Workspace) -> NDArray[np.float32]:
        phase, index = self._next_phases(count, workspace), workspace.index[:count]
        np.right_shift(phase, _INDEX_SHIFT, out=index)
        wave, step = workspace.wave[:count], workspace.step[:count]
        fraction = workspace.fraction[:count]
        # mode="clip" only spares numpy a buffer: the index cannot leave the table
        np.take(self.table.samples, index.view(np.int64), out=wave, mode="clip")
        np.take(self.table.steps, index.view(np.int64), out=step, mode="clip")
        np.right_shift(phase, _FRACTION_SHIFT, out=index)
        np.bitwise_and(index, _FRACTION_MASK, out=index)
        np.copyto(fraction, index.view(np.int64), casting="unsafe")
        fraction *= _FRACTION_UNIT
        step *= fraction
        wave += step
        return wave

    def _next_phases(self, count: int, workspace: Workspace) -> NDArray[np.uint64]:
        phase, scratch = workspace.phase[:count], workspace.index[:count]
        np.multiply(workspace.count[:count], np.uint64(self._step), out=phase)
        phase += np.uint64(self._phase)
        glide = self._glide
        if glide:
            np.multiply(workspace.triangle[:count], np.uint64(glide % _CYCLE), out=scratch)
            phase += scratch
        travelled = count * self._step + glide * (count * (count - 1) // 2)
        self._phase = (self._phase + travelled) % _CYCLE
        self._step += count * glide
        return phase

    def _next_envelope(self, count: int, workspace: Workspace) -> NDArray[np.float32]:
        assert self._envelope is not None
        index, envelope = workspace.index[:count], workspace.step[:count]
        np.add(workspace.count[:count], np.uint64(self._since_pluck), out=index)
        np.take(self._envelope, index.view(np.int64), out=envelope, mode="wrap")
        self._since_pluck = (self._since_pluck + count) % self._envelope.size
        return envelope


@lru_cache(maxsize=8)
def _pluck_envelope(every_s: float, sample_rate_hz: float) -> NDArray[np.float32]:
    time_s = np.arange(round(every_s * sample_rate_hz)) / sample_rate_hz
    fall = np.exp(-time_s / PLUCK_FALL_S)
    rise = 0.5 - 0.5 * np.cos(np.pi * np.minimum(time_s / PLUCK_RISE_S, 1.0))
    remaining = np.exp(-every_s / PLUCK_FALL_S)
    envelope: NDArray[np.float32] = (remaining + (fall - remaining) * rise).astype(np.float32)
    return envelope
