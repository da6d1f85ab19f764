"""A MIDI keyboard beside the microphone: its keys become the reference of the take."""

from collections.abc import Callable
from dataclasses import replace

from intonation.errors import IntonationError
from intonation.exercise.drone import Drone, DroneTone
from intonation.exercise.keyboard import KeyboardReference, StepAsked
from intonation.interchange.midi_keyboard import MidiKeyboard
from intonation.pitch.intervals import interval_between
from intonation.pitch.tuning import Tuning
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import tuning_of

UPPER_KEYS_DB = -6.0
"""How much softer than the lowest key the others sound, as the upper tones of a drone do."""


class Keys:
    """Follows a keyboard.

    Parameters
    ----------
    open_keyboard
        Opens it; a keyboard that has gone is opened anew at the next take.
    """

    def __init__(self, open_keyboard: Callable[[], MidiKeyboard]) -> None:
        self._open_keyboard = open_keyboard
        self._keyboard: MidiKeyboard | None = None
        self._reference = KeyboardReference()
        self._step_asked = False

    def begin(self) -> None:
        """Open the keyboard if it is not open, and forget what was played before.

        Raises
        ------
        SetupError
            If there is no such keyboard, or no MIDI input at all.
        """
        if self._keyboard is None:
            self._keyboard = self._open_keyboard()
        self._keyboard.events()
        self._reference = KeyboardReference()
        self._step_asked = False

    def moved(self) -> bool:
        """Take in what was played; return whether other keys sound now than before.

        Raises
        ------
        SetupError
            If the keyboard is gone.
        """
        if self._keyboard is None:
            return False
        before = self._reference.sounding
        try:
            for event in self._keyboard.events():
                self._reference = self._reference.after(event)
                self._step_asked = self._step_asked or isinstance(event, StepAsked)
        except IntonationError:
            self.close()
            raise
        return self._reference.sounding != before

    def step_asked(self) -> bool:
        """Return whether the pedal was pressed since this was asked last."""
        asked, self._step_asked = self._step_asked, False
        return asked

    def reference(self, settings: PracticeSettings) -> Drone | None:
        """Return what the keys sound, the lowest first, tuned as the player chose."""
        if not self._reference.sounding:
            return None
        lowest = self._reference.sounding[0]
        tuning = tuning_of(replace(settings, drone_midi=lowest))
        return Drone(tuple(_tone(midi, lowest, tuning) for midi in self._reference.sounding))

    def close(self) -> None:
        """Let go of the keyboard."""
        if self._keyboard is not None:
            self._keyboard.close()
            self._keyboard = None


def _tone(midi: int, lowest: int, tuning: Tuning) -> DroneTone:
    level_db = 0.0 if midi == lowest else UPPER_KEYS_DB
    return DroneTone(midi, interval_between(midi, over_midi=lowest), tuning.hz(midi), level_db)
