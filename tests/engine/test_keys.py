"""A MIDI keyboard as the reference: its keys sound, are tuned as chosen, and become the targets."""

from collections.abc import Iterator

import mido
import pytest
from mido import Message

from intonation.engine.connecting import keys_for
from intonation.engine.connections import StandIn
from intonation.engine.messages import (
    EndTake,
    EngineEvent,
    ReferenceChanged,
    SoundFault,
    SoundSettings,
    StartTake,
    StepWanted,
)
from intonation.engine.sound_engine import SoundEngine
from intonation.instruments.library import instrument_named
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.simulation.plan import long_tones
from intonation.simulation.players import simulated_player
from tests.support import scripted_midi

SETTINGS = PracticeSettings(drone_midi=65, temperament="pure", loudness_db=-24.0)


@pytest.fixture(autouse=True)
def own_midi_system() -> Iterator[None]:
    before = mido.backend
    mido.set_backend("tests.support.scripted_midi")
    scripted_midi.reset("Stage piano 24:0")
    yield
    mido.set_backend(before)


def player_of_a5(_settings: PracticeSettings, _synth: object) -> object:
    return simulated_player("exact", instrument_named("alto"), long_tones((81, 81)), seed=1)


def engine_with_keyboard(name: str = "stage") -> tuple[SoundEngine, StandIn]:
    connection = StandIn("player", sample_rate_hz=48_000.0, make_source=player_of_a5)
    keys = keys_for(SoundSettings(keyboard=name))
    engine = SoundEngine(lambda: connection, headphones=True, keys=keys)
    engine.open()
    return engine, connection


def sounding_hz(connection: StandIn) -> list[float]:
    voices = {partial.hz: partial.level_db for partial in connection.synth.partials()}
    return [hz for hz, level_db in voices.items() if level_db > -50.0][:1]


def strike(*notes: int) -> None:
    scripted_midi.press(*(Message("note_on", note=note, velocity=90) for note in notes))


def run(engine: SoundEngine) -> list[EngineEvent]:
    events: list[EngineEvent] = []
    while engine.in_take:
        events += engine.listen(limit_s=0.5)
    return events


def test_until_a_key_is_struck_the_chosen_drone_sounds() -> None:
    engine, connection = engine_with_keyboard()
    assert len(engine.obey(StartTake(SETTINGS))) == 1
    assert sounding_hz(connection) == [pytest.approx(349.228, abs=0.001)]


def test_struck_keys_sound_pure_over_the_lowest() -> None:
    engine, connection = engine_with_keyboard()
    engine.obey(StartTake(SETTINGS))
    strike(62, 69)
    (changed, *_) = engine.listen(limit_s=0.1)
    assert isinstance(changed, ReferenceChanged)
    assert changed.drone is not None
    low, high = changed.drone.frequencies_hz
    assert low == pytest.approx(293.665, abs=0.001)
    assert high / low == pytest.approx(1.5)
    assert {low, high} <= {partial.hz for partial in connection.synth.partials()}


def test_the_targets_follow_the_keys() -> None:
    """A5 is a major third over F, pure at 5:4, and a fifth over D, pure at 3:2."""
    engine, _ = engine_with_keyboard()
    engine.obey(StartTake(SETTINGS))
    events: list[EngineEvent] = []
    while not [event for event in events if isinstance(event, NoteScored)]:
        events += engine.listen(limit_s=0.5)
    strike(62)
    events += run(engine)
    first, second = (event.scored.target for event in events if isinstance(event, NoteScored))
    assert (first.interval, second.interval) == ("major third", "fifth")
    assert second.hz == pytest.approx(293.665 * 3.0, abs=0.01)


def test_all_sound_off_leaves_silence() -> None:
    engine, connection = engine_with_keyboard()
    engine.obey(StartTake(SETTINGS))
    strike(62)
    engine.listen(limit_s=0.1)
    scripted_midi.press(Message("control_change", control=120, value=0))
    assert ReferenceChanged(None) in engine.listen(limit_s=0.1)
    connection.synth.render(9_600)
    assert connection.synth.silent


def test_the_pedal_asks_for_the_next_step_before_during_and_after_a_take() -> None:
    """Control change 64 is the damper pedal, down from 64 on (MIDI 1.0 Detailed Specification)."""
    engine, _ = engine_with_keyboard()
    press, release = (Message("control_change", control=64, value=v) for v in (127, 0))
    scripted_midi.press(press, release)
    assert engine.listen(limit_s=0.1) == [StepWanted()]
    engine.obey(StartTake(SETTINGS))
    scripted_midi.press(press)
    assert StepWanted() in engine.listen(limit_s=0.1)
    engine.obey(EndTake())
    scripted_midi.press(release, press)
    assert engine.listen(limit_s=0.1) == [StepWanted()]


def test_a_key_can_step_on_instead_of_sounding() -> None:
    connection = StandIn("player", sample_rate_hz=48_000.0, make_source=player_of_a5)
    keys = keys_for(SoundSettings(keyboard="stage", step_midi=21))
    engine = SoundEngine(lambda: connection, headphones=True, keys=keys)
    engine.open()
    engine.obey(StartTake(SETTINGS))
    strike(21)
    events = engine.listen(limit_s=0.1)
    assert StepWanted() in events
    assert not [event for event in events if isinstance(event, ReferenceChanged)]


def test_a_keyboard_that_is_missing_is_said_and_practice_goes_on() -> None:
    engine, _ = engine_with_keyboard("organ")
    faults = [event for event in engine.obey(StartTake(SETTINGS)) if isinstance(event, SoundFault)]
    assert 'no MIDI keyboard "organ"' in faults[0].sentence
    assert not faults[0].fatal
    assert [event for event in run(engine) if isinstance(event, NoteScored)]


def test_a_keyboard_that_is_unplugged_is_said_once_and_practice_goes_on() -> None:
    engine, _ = engine_with_keyboard()
    engine.obey(StartTake(SETTINGS))
    scripted_midi.unplug()
    events = run(engine)
    faults = [event for event in events if isinstance(event, SoundFault)]
    assert ["no longer answers" in fault.sentence for fault in faults] == [True]
    assert [event for event in events if isinstance(event, NoteScored)]
