"""The tracker on sampled recorders and flutes, bent by known amounts through FluidSynth."""

from pathlib import Path

import numpy as np
import pytest

from intonation.pitch.cents import cents_between
from intonation.tracking.tracker import track

RATE_HZ = 48_000
FLUID_R3 = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
RECORDER, FLUTE = 74, 73
BENDS_CENTS = (0, 10, 25, -15)

pytestmark = pytest.mark.fluidsynth


@pytest.mark.skipif(not FLUID_R3.exists(), reason="needs the Debian package fluid-soundfont-gm")
@pytest.mark.parametrize("preset", [RECORDER, FLUTE])
@pytest.mark.parametrize("key", [72, 79])
def test_bends_of_a_sampled_instrument_are_heard_as_they_were_made(preset: int, key: int) -> None:
    """Pitch bend 0x2000 is none and the range is two semitones (MIDI 1.0).

    FluidSynth rounds a pitch down to whole cents: half a cent more keeps every bend off the edge.
    """
    heard_hz = [_pitch_of(preset, key, cents) for cents in BENDS_CENTS]
    for cents, hz in zip(BENDS_CENTS, heard_hz, strict=True):
        difference = cents_between(hz, target_hz=heard_hz[0])
        assert difference == pytest.approx(cents, abs=0.75)


def _pitch_of(preset: int, key: int, cents: int) -> float:
    fluidsynth = pytest.importorskip("fluidsynth", exc_type=ImportError)
    synth = fluidsynth.Synth(samplerate=float(RATE_HZ), gain=0.5)
    synth.setting("synth.reverb.active", 0)
    synth.setting("synth.chorus.active", 0)
    synth.program_select(0, synth.sfload(str(FLUID_R3)), 0, preset)
    synth.pitch_bend(0, round((cents + 0.5) * 8192 / 200))
    quiet = synth.get_samples(RATE_HZ // 4)
    synth.noteon(0, key, 90)
    sound = synth.get_samples(2 * RATE_HZ)
    synth.delete()
    left = np.concatenate([quiet, sound])[::2] / 32768.0
    notes = track(left, float(RATE_HZ)).notes
    return max(notes, key=lambda note: note.duration_s).f0_hz
