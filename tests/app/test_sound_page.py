from pathlib import Path

import pytest

from intonation.app.devices_found import DevicesFound
from intonation.app.sound_choices import sound_choices
from intonation.app.sound_state import SoundState
from intonation.engine.messages import (
    EngineClosed,
    SoundCounters,
    SoundFault,
    SoundReady,
    SoundSettings,
)
from intonation.errors import SoundFileError
from intonation.practice.events import PhaseChanged
from tests.app.conftest import Stand, screen_text, settled

READY = SoundReady("Desk microphone", "Headphones", 48_000.0, 0.043)
FAULT = SoundFault("The microphone has stopped.", "Plug it in.", fatal=True)
GLITCH = SoundFault("Some of the sound was lost.", "Play it again.", fatal=False)


async def test_the_page_says_what_is_listened_to_and_how_the_sound_is_doing(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s")
        stand.engine.heard(SoundCounters(2250, 2250, 1, 2, 480, -31.2, 68.0))
        await settled(pilot)
        page = " ".join(screen_text(pilot).split())
        assert "Listening to Desk microphone" in page
        assert "48 kHz, 43 ms" in page
        assert "Input level −31 dBFS" in page
        assert "Interruptions 3, 480 samples lost" in page


async def test_other_choices_count_when_the_page_is_left(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "down", "down", "down", "right")
        await settled(pilot)
        assert len(stand.sound.engines) == 1
        await pilot.press("escape")
        await settled(pilot)
        first, second = stand.sound.engines
        assert first.closed
        assert second.sound == SoundSettings(headphones=True)
        assert stand.remembered[-1].headphones


async def test_leaving_without_a_change_leaves_the_sound_running(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "escape")
        await settled(pilot)
        assert len(stand.sound.engines) == 1
        assert not stand.engine.closed


async def test_a_simulated_player_can_stand_in_without_any_sound_library(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "right", "escape")
        await settled(pilot)
        assert stand.engine.sound.simulated


async def test_a_recording_that_is_not_there_is_said_in_place(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "enter", *"take.wav", "enter")
        assert 'There is no file "take.wav".' in screen_text(pilot)


def test_a_recording_stands_in_for_the_microphone(tmp_path: Path) -> None:
    recording = tmp_path / "take.wav"
    recording.write_bytes(b"RIFF")
    entered = sound_choices(DevicesFound())[0].entered
    assert entered is not None
    assert entered(SoundSettings(), str(recording)) == SoundSettings(recording=recording)
    with pytest.raises(SoundFileError, match="no file"):
        entered(SoundSettings(), str(tmp_path / "other.wav"))


def test_microphones_are_stepped_through_and_the_systems_choice_comes_back() -> None:
    microphone = sound_choices(DevicesFound(microphones=("Desk", "Clip")))[1]
    assert microphone.stepped is not None
    names = [SoundSettings()]
    for _ in range(3):
        names.append(microphone.stepped(names[-1], 1))
    assert [sound.microphone for sound in names] == [None, "Desk", "Clip", None]


def test_a_fatal_fault_stays_until_the_sound_runs_again() -> None:
    state = SoundState().after(READY).after(FAULT)
    assert state.trouble == "The microphone has stopped. Plug it in."
    assert state.after(PhaseChanged("resting", 9.0)).trouble is not None
    assert state.after(READY).trouble is None


def test_a_passing_fault_is_forgotten_with_the_take() -> None:
    state = SoundState().after(READY).after(GLITCH)
    assert state.trouble is not None
    assert state.after(PhaseChanged("your turn", 3.0)).trouble is not None
    assert state.after(PhaseChanged("resting", 9.0)).trouble is None


def test_an_ended_engine_is_not_shown_as_running() -> None:
    assert SoundState().after(READY).after(EngineClosed()).ready is None


def test_a_keyboard_can_be_chosen_and_a_machine_without_midi_says_why_not() -> None:
    keyboard = sound_choices(DevicesFound(keyboards=("Stage piano",)))[-1]
    assert keyboard.stepped is not None
    assert keyboard.stepped(SoundSettings(), 1).keyboard == "Stage piano"
    missing = sound_choices(DevicesFound(keyboard_trouble="No MIDI here. Install it."))[-1]
    assert missing.explained(SoundSettings()) == "No MIDI here. Install it."
