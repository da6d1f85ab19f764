"""Changes of chord fall on their exact sample, and prepared sounds keep to the ceiling."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.synth.loudness import CEILING
from intonation.synth.sequencer import Sequencer
from intonation.synth.tones import Tone
from intonation.synth.wavetable import Synth

RATE_HZ = 48_000
CHANGES = ((0.0, (Tone(440.0),)), (0.5, (Tone(330.0), Tone(495.0, -3.0))), (0.7, ()))


def test_chords_change_on_their_exact_sample() -> None:
    sequencer, synth = Sequencer(Synth(RATE_HZ)), Synth(RATE_HZ)
    sequencer.start(CHANGES)
    by_hand = []
    for (_, tones), length_s in zip(CHANGES, (0.5, 0.2, 0.1), strict=True):
        synth.set_tones(tones)
        by_hand.append(synth.render(round(length_s * RATE_HZ)))
    np.testing.assert_array_equal(sequencer.render(round(0.8 * RATE_HZ)), np.concatenate(by_hand))


@settings(max_examples=15, deadline=None)
@given(st.integers(40, 3_000))
def test_the_music_does_not_depend_on_the_block_size(block: int) -> None:
    whole, cut = Sequencer(Synth(RATE_HZ)), Sequencer(Synth(RATE_HZ))
    whole.start(CHANGES)
    cut.start(CHANGES)
    blocks = [cut.render(block) for _ in range(-(-36_000 // block))]
    np.testing.assert_array_equal(np.concatenate(blocks)[:36_000], whole.render(36_000))


def test_stopping_forgets_what_has_not_come_yet() -> None:
    synth = Synth(RATE_HZ)
    sequencer = Sequencer(synth)
    sequencer.start(CHANGES)
    sequencer.render(RATE_HZ // 4)
    sequencer.stop()
    sequencer.render(RATE_HZ // 2)
    assert synth.silent
    assert not np.any(sequencer.render(RATE_HZ))


def test_a_prepared_sound_is_added_once_at_the_loudness_asked_for() -> None:
    synth = Synth(RATE_HZ)
    sequencer = Sequencer(synth)
    synth.set_loudness(-20.0)
    sequencer.play(np.full(1_000, 0.5, dtype=np.float32))
    assert sequencer.playing_clip
    played = np.concatenate([sequencer.render(300) for _ in range(5)])
    np.testing.assert_allclose(played[:1_000], 0.05, rtol=1e-5)
    assert not np.any(played[1_000:])
    assert not sequencer.playing_clip


def test_a_prepared_sound_cannot_get_past_the_ceiling() -> None:
    synth = Synth(RATE_HZ)
    sequencer = Sequencer(synth)
    synth.set_tones((Tone(440.0),))
    sequencer.play(np.full(RATE_HZ, 5.0, dtype=np.float32))
    assert np.max(np.abs(sequencer.render(RATE_HZ))) <= CEILING


def test_a_tone_that_cannot_sound_is_refused_before_anything_sounds() -> None:
    sequencer = Sequencer(Synth(RATE_HZ))
    with pytest.raises(SettingsError, match="outside what can be sounded"):
        sequencer.start([(0.0, (Tone(440.0),)), (1.0, (Tone(0.0),))])
    assert not np.any(sequencer.render(100))
