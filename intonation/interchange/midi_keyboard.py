"""A MIDI keyboard: found by name, and asked now and then what was pressed."""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

from intonation.errors import SetupError
from intonation.exercise.keyboard import (
    AllKeysReleased,
    KeyboardEvent,
    KeyPressed,
    KeyReleased,
    StepAsked,
)
from intonation.interchange.midi_library import mido_library
from intonation.language import say

_SUSTAIN_PEDAL, _ALL_SOUND_OFF, _ALL_NOTES_OFF = 64, 120, 123
_PEDAL_DOWN_FROM = 64

# The package is missing; no MIDI system, or the keyboard is gone (the library's own errors are
# OSErrors); a port that was closed from outside.
_NO_INPUT = (ImportError, OSError, ValueError)


def keyboard_names() -> tuple[str, ...]:
    """Return the names of the MIDI inputs of this machine.

    Raises
    ------
    SetupError
        If this machine has no MIDI input at all; practice without one goes on.
    """
    try:
        return tuple(mido_library().get_input_names())
    except _NO_INPUT as fault:
        raise _no_midi(fault) from None


class MidiKeyboard:
    """An open MIDI input.

    Parameters
    ----------
    name
        Its name, or the beginning of it.
    step_midi
        A key that asks for the next step instead of sounding; None for the pedal only.

    Raises
    ------
    SetupError
        If there is no such keyboard, or no MIDI input at all.
    """

    def __init__(self, name: str, *, step_midi: int | None = None) -> None:
        self.name = _full_name(name)
        self._step_midi = step_midi
        try:
            self._port: Any = mido_library().open_input(self.name)
        except _NO_INPUT as fault:
            raise _no_midi(fault) from None

    def events(self) -> tuple[KeyboardEvent, ...]:
        """Return what happened since the last time, in order; never waits.

        Raises
        ------
        SetupError
            If the keyboard is gone.
        """
        try:
            messages = list(self._port.iter_pending())
        except _NO_INPUT:
            raise SetupError(
                say(
                    "The keyboard {name} no longer answers; its notes are silenced.", name=self.name
                ),
                say("Plug it in again and choose it again."),
            ) from None
        return tuple(event for message in messages for event in self._understood(message))

    def close(self) -> None:
        """Let go of the keyboard."""
        self._port.close()

    def _understood(self, message: Any) -> Iterator[KeyboardEvent]:
        if message.type in ("note_on", "note_off"):
            pressed = message.type == "note_on" and message.velocity > 0
            if message.note == self._step_midi:
                yield from (StepAsked(),) if pressed else ()
            else:
                yield KeyPressed(message.note) if pressed else KeyReleased(message.note)
        elif message.type == "control_change":
            if message.control == _SUSTAIN_PEDAL and message.value >= _PEDAL_DOWN_FROM:
                yield StepAsked()
            elif message.control in (_ALL_SOUND_OFF, _ALL_NOTES_OFF):
                yield AllKeysReleased()


def _full_name(name: str) -> str:
    names = keyboard_names()
    matching = [each for each in names if each.lower().startswith(name.lower())]
    if matching:
        return matching[0]
    if not names:
        raise SetupError(
            say("No MIDI keyboard is connected; practice goes on without one."),
            say("Connect it, switch it on, and look again."),
        )
    near = get_close_matches(name, names, n=1)
    raise SetupError(
        say('There is no MIDI keyboard "{name}".', name=name),
        say("Did you mean {near}?", near=near[0])
        if near
        else say("There is {names}.", names=", ".join(names)),
    )


def _no_midi(fault: Exception) -> SetupError:
    if isinstance(fault, ImportError):
        return SetupError(
            say(
                "MIDI keyboards need the Python package python-rtmidi, which is not installed; "
                "practice goes on without one."
            ),
            say("Install it with: {command}", command='pip install "intonation[midi]"'),
        )
    return SetupError(
        say("This system offers no MIDI input; practice goes on without a keyboard."),
        say("On Linux load the sequencer with: {command}", command="sudo modprobe snd-seq"),
    )
