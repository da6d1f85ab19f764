"""Note names, MIDI note numbers and equal-tempered frequencies. C4 is middle C, MIDI 60."""

import re

from intonation.errors import SettingsError
from intonation.language import say

PITCH_CLASSES = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")
"""Usual spelling of the twelve pitch classes on a recorder's chart, C first."""

A4_MIDI = 69
_STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
_ALTERATIONS = {"": 0, "#": 1, "♯": 1, "b": -1, "♭": -1}
_NAME = re.compile(r"([A-Ga-g])([#♯b♭]?)(-?\d)")
_CLASS = re.compile(r"([A-Ga-g])([#♯b♭]?)")


def note_name(midi: int) -> str:
    """Return the name of a MIDI note number, for example ``"F#4"`` for 66."""
    return f"{PITCH_CLASSES[midi % 12]}{midi // 12 - 1}"


def midi_of_note(name: str) -> int:
    """Return the MIDI note number of a note name such as ``"F#4"``, ``"Bb5"`` or ``"e♭4"``.

    Raises
    ------
    SettingsError
        If the text is not a note name.
    """
    match = _NAME.fullmatch(name.strip())
    if match is None:
        raise SettingsError(
            say('"{name}" is not a note name.', name=name),
            say(
                "Write a letter, an optional # or b, and the octave, for example F#4 (C4 is middle "
                "C)."
            ),
        )
    step, alteration, octave = match.groups()
    return _STEPS[step.upper()] + _ALTERATIONS[alteration] + 12 * (int(octave) + 1)


def pitch_class_of(name: str) -> int:
    """Return the pitch class (0 = C … 11 = B) of a name without octave, such as ``"Eb"``.

    Raises
    ------
    SettingsError
        If the text is not a pitch class name.
    """
    match = _CLASS.fullmatch(name.strip())
    if match is None:
        raise SettingsError(
            say('"{name}" is not the name of a note.', name=name),
            say("Write a letter with an optional # or b, for example Eb."),
        )
    step, alteration = match.groups()
    return (_STEPS[step.upper()] + _ALTERATIONS[alteration]) % 12


def equal_tempered_hz(midi: float, *, a4_hz: float) -> float:
    """Return the equal-tempered frequency in hertz of a (possibly fractional) MIDI note number.

    Notes
    -----
    ``f = a4 · 2^((midi − 69)/12)``: MIDI 1.0 Detailed Specification, MIDI Tuning; ISO 16 for A4.
    """
    return float(a4_hz * 2.0 ** ((midi - A4_MIDI) / 12.0))
