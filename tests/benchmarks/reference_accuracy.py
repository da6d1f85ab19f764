"""Measures the reference voices from their samples; prints the table of the page on sound.

Run as ``python -m tests.benchmarks.reference_accuracy``; needs the FluidSynth library.
"""

import time
from collections.abc import Callable
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from intonation.pitch.notes import equal_tempered_hz
from intonation.synth.fluid import FluidSynth
from intonation.synth.tones import SoundingPartial, Tone
from intonation.synth.voices import VOICES
from intonation.synth.wavetable import Synth
from tests.support.steady_sound import frequency_error_cents, residual_db

RATE_HZ = 48_000
PITCHES = 24
SEED = 31


class Reference(Protocol):
    def set_tones(self, tones: tuple[Tone, ...]) -> None: ...

    def partials(self) -> tuple[SoundingPartial, ...]: ...

    def render(self, frames: int) -> NDArray[np.float32]: ...


def worst_of_voice(make: Callable[[], Reference], voice: str) -> tuple[float, float]:
    """Return the largest pitch error in cents and the largest residual in dB, C2 to C8."""
    rng, errors, residuals = np.random.default_rng(SEED), [], []
    for midi in np.sort(rng.uniform(36.0, 108.0, PITCHES)):
        hz = equal_tempered_hz(float(midi), a4_hz=440.0)
        synth = make()
        synth.set_tones((Tone(hz, voice=voice),))
        synth.render(RATE_HZ // 2)
        samples = synth.render(2 * RATE_HZ).astype(float)
        errors.append(abs(frequency_error_cents(samples, RATE_HZ, expected_hz=hz)))
        partials_hz = [partial.hz for partial in synth.partials()]
        residuals.append(residual_db(samples[: RATE_HZ // 4], RATE_HZ, partials_hz))
    return max(errors), max(residuals)


def share_of_a_core(synth: Reference, *, voices: int, voice: str) -> float:
    """Return the processor time of a second of sound in blocks of 512."""
    synth.set_tones(tuple(Tone(110.0 * 2.0 ** (n / 5.0), voice=voice) for n in range(voices)))
    synth.render(RATE_HZ)
    blocks = 5 * RATE_HZ // 512
    began_s = time.process_time()
    for _ in range(blocks):
        synth.render(512)
    return (time.process_time() - began_s) / (blocks * 512 / RATE_HZ)


def main() -> None:
    makers: dict[str, Callable[[], Reference]] = {
        "wavetable": lambda: Synth(RATE_HZ),
        "FluidSynth, our SoundFont": lambda: FluidSynth(RATE_HZ),
    }
    print("| synthesiser | voice | largest pitch error | largest residual | 12 voices |")
    print("|---|---|---|---|---|")
    for name, make in makers.items():
        for voice in [each.name for each in VOICES.values() if each.plucked_every_s is None]:
            cents, rest_db = worst_of_voice(make, voice)
            share = share_of_a_core(make(), voices=12, voice=voice)
            print(f"| {name} | {voice} | {cents:.6f} c | {rest_db:.0f} dB | {100 * share:.1f} % |")


if __name__ == "__main__":
    main()
