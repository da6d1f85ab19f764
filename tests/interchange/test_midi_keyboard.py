"""A MIDI keyboard is found, heard and missed in plain words."""

import os
from collections.abc import Iterator

import mido
import pytest
from mido import Message

from intonation.errors import SetupError
from intonation.exercise.keyboard import AllKeysReleased, KeyPressed, KeyReleased, StepAsked
from intonation.interchange.midi_keyboard import MidiKeyboard, keyboard_names
from tests.support import scripted_midi


@pytest.fixture(autouse=True)
def own_midi_system() -> Iterator[None]:
    before = mido.backend
    mido.set_backend("tests.support.scripted_midi")
    scripted_midi.reset("Stage piano 24:0", "Pedals 28:0")
    yield
    mido.set_backend(before)


def test_a_keyboard_is_found_by_the_beginning_of_its_name() -> None:
    assert keyboard_names() == ("Stage piano 24:0", "Pedals 28:0")
    assert MidiKeyboard("stage").name == "Stage piano 24:0"


def test_keys_and_pedal_arrive_in_order_and_only_once() -> None:
    keyboard = MidiKeyboard("stage")
    scripted_midi.press(
        Message("note_on", note=60, velocity=80),
        Message("note_on", note=64, velocity=80),
        Message("note_on", note=60, velocity=0),
        Message("control_change", control=64, value=127),
        Message("control_change", control=64, value=0),
        Message("note_off", note=64),
        Message("control_change", control=123, value=0),
        Message("pitchwheel", pitch=100),
    )
    assert keyboard.events() == (
        KeyPressed(60), KeyPressed(64), KeyReleased(60), StepAsked(), KeyReleased(64),
        AllKeysReleased(),
    )  # fmt: skip
    assert keyboard.events() == ()


def test_one_key_can_stand_for_the_pedal() -> None:
    keyboard = MidiKeyboard("stage", step_midi=21)
    scripted_midi.press(Message("note_on", note=21), Message("note_off", note=21))
    assert keyboard.events() == (StepAsked(),)


def test_a_keyboard_that_is_unplugged_is_missed_in_a_sentence() -> None:
    keyboard = MidiKeyboard("stage")
    scripted_midi.unplug()
    with pytest.raises(SetupError, match="Stage piano 24:0 no longer answers"):
        keyboard.events()
    keyboard.close()


def test_an_unknown_keyboard_is_answered_with_the_nearest() -> None:
    with pytest.raises(SetupError, match="Pedals"):
        MidiKeyboard("Pedlas 28:0")


def test_without_any_keyboard_practice_goes_on() -> None:
    scripted_midi.reset()
    with pytest.raises(SetupError, match="goes on without"):
        MidiKeyboard("stage")


def test_without_the_midi_package_the_sentence_says_what_to_install() -> None:
    mido.set_backend("no_such_midi_backend")
    with pytest.raises(SetupError, match=r"intonation\[midi\]"):
        keyboard_names()


def test_a_system_without_midi_is_a_sentence_not_a_crash(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(**_: object) -> list[dict[str, object]]:
        raise OSError(os.strerror(2))

    monkeypatch.setattr(scripted_midi, "get_devices", broken)
    with pytest.raises(SetupError, match="no MIDI input"):
        keyboard_names()
