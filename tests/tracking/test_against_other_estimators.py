"""The tracker beside an independent estimator of another kind, and beside a published standard."""

import numpy as np
import parselmouth
import pytest

from intonation.pitch.cents import cents_between
from intonation.tracking.tracker import track
from tests.support.tones import PlayedTone, melody

RATE_HZ = 48_000.0


@pytest.mark.parametrize("f0_hz", [415.3, 440.0, 698.46, 1046.5])
def test_normalized_autocorrelation_hears_the_same_pitch(f0_hz: float) -> None:
    """P. Boersma, IFA Proceedings 17 (1993) 97, as in Praat, through parselmouth."""
    recording = melody([PlayedTone(f0_hz=f0_hz, noise_db=-30.0)], 1)
    note = track(recording.samples, RATE_HZ).notes[0]
    sound = parselmouth.Sound(recording.samples, RATE_HZ).extract_part(0.6, 1.8)
    pitch = sound.to_pitch_ac(0.01, 300.0, pitch_ceiling=1600.0).selected_array["frequency"]
    middle_hz = float(np.median(pitch[pitch > 0.0]))
    assert abs(cents_between(note.f0_hz, target_hz=middle_hz)) < 1.0


def test_the_a_of_iso_16_is_heard_where_the_standard_puts_it() -> None:
    """ISO 16:1975 sets the A above middle C at 440 Hz."""
    time_s = np.arange(round(1.5 * RATE_HZ)) / RATE_HZ
    sine = 0.1 * np.sin(2.0 * np.pi * 440.0 * time_s)
    note = track(np.concatenate([np.zeros(9600), sine, np.zeros(9600)]), RATE_HZ).notes[0]
    assert abs(cents_between(note.f0_hz, target_hz=440.0)) < 0.001
    assert note.level_db == pytest.approx(-23.01, abs=0.1)
