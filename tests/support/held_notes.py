"""Held notes for tests, steady unless a test says otherwise."""

from typing import Any

from intonation.assessment.scoring import ScoredNote
from intonation.assessment.targets import TargetChoice, scored
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import shifted_hz
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered
from intonation.tracking.events import HeldNote

EQUAL_440 = tempered(temperament_named("equal"), a4_hz=440.0)


def held_note(f0_hz: float, *, onset_s: float = 3.0, seconds: float = 2.0, **more: Any) -> HeldNote:
    """Return a held note at a frequency, two seconds long and steady."""
    usual = {
        "standard_error_cents": 0.1,
        "sd_cents": 1.0,
        "drift_cents_per_s": 0.0,
        "level_db": -20.0,
        "harmonic_to_noise_db": 25.0,
    }
    return HeldNote(onset_s=onset_s, offset_s=onset_s + seconds, f0_hz=f0_hz, **(usual | more))


def scored_note(midi: int, cents: float, *, instrument: str = "alto", **more: Any) -> ScoredNote:
    """Return a note of an instrument that lies some cents from its equal-tempered target."""
    choice = TargetChoice(instrument=instrument_named(instrument), tuning=EQUAL_440)
    f0_hz = shifted_hz(EQUAL_440.hz(midi), cents=cents)
    return scored(held_note(f0_hz, **more), target=choice.of_note(midi))
