"""A prepared sound that is replaced while it sounds fades out instead of breaking off."""

import numpy as np

from intonation.synth.sequencer import Sequencer
from intonation.synth.wavetable import Synth

RATE_HZ = 48_000


def a_sine(seconds: float) -> np.ndarray:
    return (0.3 * np.sin(2 * np.pi * 440.0 * np.arange(round(seconds * RATE_HZ)) / RATE_HZ)).astype(
        np.float32
    )


def test_replacing_a_sound_makes_no_click() -> None:
    sequencer = Sequencer(Synth(RATE_HZ))
    sequencer.play(a_sine(1.0))
    before = sequencer.render(1000 + 27)  # ends away from a zero crossing
    sequencer.play(np.zeros(RATE_HZ // 10, dtype=np.float32))
    after = sequencer.render(RATE_HZ // 10)
    sound = np.concatenate([before, after])
    steepest = 2 * np.pi * 440.0 / RATE_HZ * 0.3
    assert np.abs(np.diff(sound)).max() < 1.1 * steepest
    assert np.abs(after[2000:]).max() == 0.0
    assert not sequencer.playing_clip
