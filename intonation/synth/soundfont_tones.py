"""The samples of our own SoundFont, and how FluidSynth makes a frequency from them exactly.

FluidSynth drops the fraction of every pitch in cents, so a pure fifth (701.955 c) sounds as 701 c.
But the pitch of a sample also follows the sample rate written in its header, and one hertz in
192 000 is 0.009 c. The same samples are therefore listed under 111 successive rates, each as a bank
of its own: the whole cents are left to FluidSynth and the bank supplies the fraction.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz
from intonation.synth.voices import Voice
from intonation.synth.wavetables import TABLE_SAMPLES, Wavetable, wavetable

SAMPLE_RATE_HZ = 192_000
"""Four times the usual rate keeps what FluidSynth's interpolation adds below −70 dB."""

RATE_STEP_HZ = 1
KEYS_BELOW, KEYS_ABOVE = 3, 2
ROOT_KEYS = tuple(range(24, 117, KEYS_BELOW + 1 + KEYS_ABOVE))
"""A sample every six semitones from C1."""

BANKS = math.ceil(1.0 / cents_between(SAMPLE_RATE_HZ + RATE_STEP_HZ, target_hz=SAMPLE_RATE_HZ))
"""How many successive rates it takes to cover one cent."""

SAMPLE_PEAK = 0.9
_HIGHEST_PARTIAL_HZ = 10_000.0
_SHORTEST_LOOP = 1_024
GUARD_SAMPLES = 48


@dataclass(frozen=True, slots=True, eq=False)
class LoopedTone:
    """One sample: a whole number of cycles, to be repeated for ever.

    Parameters
    ----------
    voice
        Whose partials it has.
    root_key
        MIDI note that it is listed under.
    cycles, loop_samples
        How many cycles fill how many samples.
    table
        Its cycle at unit RMS.
    """

    voice: Voice
    root_key: int
    cycles: int
    loop_samples: int
    table: Wavetable

    @property
    def hz(self) -> float:
        """Its exact frequency when played at 192 kHz."""
        return self.cycles * SAMPLE_RATE_HZ / self.loop_samples

    def samples(self) -> NDArray[np.int16]:
        """Return the loop with what leads into and out of it, 16 bits."""
        at = (
            np.arange(-GUARD_SAMPLES, self.loop_samples + GUARD_SAMPLES)
            * self.cycles
            / self.loop_samples
        )
        position = (at % 1.0) * TABLE_SAMPLES
        index = position.astype(int) % TABLE_SAMPLES
        wave = self.table.samples[index] + (position - np.floor(position)) * self.table.steps[index]
        scaled = np.round(wave * (SAMPLE_PEAK / self.table.peak) * 32_767.0)
        samples: NDArray[np.int16] = scaled.astype(np.int16)
        return samples


@dataclass(frozen=True, slots=True)
class FontPitch:
    """How FluidSynth is asked for a frequency.

    Parameters
    ----------
    key
        Note to strike: the sample's own.
    tuning_cents
        What that key is tuned to, in whole cents (6000 is middle C).
    bank
        Supplies the fraction of a cent.
    hz
        Frequency that then sounds.
    """

    key: int
    tuning_cents: int
    bank: int
    hz: float


def looped_tone(voice: Voice, root_key: int) -> LoopedTone:
    """Return the sample of a voice at one of the root keys."""
    hz = equal_tempered_hz(root_key, a4_hz=440.0)
    cycles = math.ceil(_SHORTEST_LOOP * hz / SAMPLE_RATE_HZ)
    fitting = max(1, min(len(voice.partial_levels_db), int(_HIGHEST_PARTIAL_HZ / hz)))
    return LoopedTone(
        voice, root_key, cycles, round(cycles * SAMPLE_RATE_HZ / hz), wavetable(voice, fitting)
    )


@lru_cache(maxsize=512)
def tone_and_pitch(voice: Voice, hz: float) -> tuple[LoopedTone, FontPitch]:
    """Return the sample from which a frequency is made, and how: to within 0.005 cents.

    FluidSynth chooses the sample by the key nearest to the tuned pitch, so the two must agree.
    """
    midi = 69.0 + cents_between(hz, target_hz=440.0) / 100.0
    for root_key in sorted(ROOT_KEYS, key=lambda key: abs(key - midi)):
        tone = looped_tone(voice, root_key)
        pitch = _nearest_pitch(tone, hz)
        nearest_key = (pitch.tuning_cents + 50) // 100
        if -KEYS_BELOW <= nearest_key - root_key <= KEYS_ABOVE:
            break
    return tone, pitch


def _nearest_pitch(tone: LoopedTone, hz: float) -> FontPitch:
    whole_cents = math.floor(cents_between(hz, target_hz=tone.hz))
    candidates = (
        _font_pitch(tone, whole, bank)
        for whole in (whole_cents - 1, whole_cents)
        for bank in range(BANKS)
    )
    return min(candidates, key=lambda pitch: abs(cents_between(hz, target_hz=pitch.hz)))


def _font_pitch(tone: LoopedTone, whole_cents: int, bank: int) -> FontPitch:
    rate = (SAMPLE_RATE_HZ + RATE_STEP_HZ * bank) / SAMPLE_RATE_HZ
    hz = tone.hz * rate * 2.0 ** (whole_cents / 1200.0)
    return FontPitch(tone.root_key, 100 * tone.root_key + whole_cents, bank, hz)
