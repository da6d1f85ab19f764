"""The ear drills sound where the player plays, and practise what is due."""

from datetime import date

import numpy as np
import pytest

from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.listening.drill import drills
from intonation.listening.stimuli import rendered
from intonation.practice.ear import ear_setting_of, slow_tunes_of
from intonation.practice.ear_block import NOTHING_KNOWN, conditions_for, drill_named
from intonation.practice.settings import PracticeSettings

TODAY = date(2031, 3, 14)


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
def test_registers_cover_the_players_own_instrument_without_a_gap(name: str) -> None:
    setting = ear_setting_of(PracticeSettings(instrument=name))
    instrument = instrument_named(name)
    assert [*setting.low_midi, *setting.high_midi] == [*instrument.notes_midi]
    assert instrument.in_second_register(setting.high_midi[0])


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
def test_every_drill_sounds_on_every_instrument(name: str) -> None:
    settings = PracticeSettings(instrument=name)
    rng = np.random.default_rng(90)
    for drill in drills(ear_setting_of(settings), tunes=slow_tunes_of(settings)).values():
        for condition in drill.conditions()[:1] + drill.conditions()[-1:]:
            trial = drill.trial(condition, 20.0, rng)
            assert np.isfinite(rendered(trial, rng, sample_rate_hz=8_000)).all()


def test_concert_pitch_and_temperament_are_the_players() -> None:
    settings = PracticeSettings(a4_hz=415.0, temperament="werckmeister-3")
    setting = ear_setting_of(settings)
    assert setting.tuning.hz(69) == pytest.approx(415.0)
    assert not setting.pure
    assert ear_setting_of(PracticeSettings()).pure


def test_tunes_are_short_and_sound_with_their_backing_from_the_start() -> None:
    tunes = slow_tunes_of(PracticeSettings())
    assert len(tunes) >= 5
    for tune in tunes:
        assert 4 <= len(tune.melody) <= 9
        assert min(tone.start_s for tone in tune.melody) == pytest.approx(0.0, abs=1.0)
        assert min(tone.start_s for tone in tune.backing) == 0.0
        assert max(tone.end_s for tone in tune.melody) < 15.0


def test_a_new_listener_begins_with_the_clearest_interval_in_both_registers() -> None:
    drill = drill_named(ear_setting_of(PracticeSettings()), "which way")
    chosen = conditions_for(drill, NOTHING_KNOWN, today=TODAY)
    assert [(each.interval, each.register) for each in chosen] == [
        ("unison", "low"),
        ("unison", "high"),
    ]
