"""How each value of the settings file is read; whatever cannot be used is said in a sentence."""

import math
from collections.abc import Callable
from typing import Any

from intonation.errors import SettingsError
from intonation.instruments.library import instrument_named
from intonation.instruments.own_instrument import size_that_is_named
from intonation.language import say
from intonation.pitch.concert_pitch import concert_pitch_hz
from intonation.pitch.notes import midi_of_note
from intonation.pitch.temperaments import temperament_named
from intonation.practice.settings import OWN, PURE

Reading = Callable[[Any], Any]
"""From a TOML value to the setting; raises a `SettingsError` for anything that it cannot be."""

SOFTEST_DB, LOUDEST_DB = -60.0, 0.0
COLDEST_C, WARMEST_C = -10.0, 50.0
_HIGHEST_MIDI = 127


def word(name: str) -> Reading:
    """Return the reading of a setting that is any word but an empty one."""

    def read(value: Any) -> str:
        if not isinstance(value, str) or not value.strip():
            raise SettingsError(
                say("{name} is not a name.", name=name), say('Write {name} = "…".', name=name)
            )
        return value.strip()

    return read


def optional_name(value: Any) -> str | None:
    """Return a name, or None for an empty one."""
    if not isinstance(value, str):
        raise SettingsError(
            say("{value} is not a name.", value=value), say("Put the name between quotation marks.")
        )
    return value.strip() or None


def one_of(*words: str) -> Reading:
    """Return the reading of a setting that is one of some words."""

    def read(value: Any) -> str:
        if value not in words:
            raise SettingsError(
                say("{value} is not known here.", value=value),
                say("Write one of {words}.", words=", ".join(words)),
            )
        return str(value)

    return read


def whole_number(lowest: int, highest: int) -> Reading:
    """Return the reading of a setting that is a whole number."""

    def read(value: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not lowest <= value <= highest:
            raise SettingsError(
                say("{value} is no such number.", value=value),
                say(
                    "Give a whole number from {lowest} to {highest}.",
                    lowest=lowest,
                    highest=highest,
                ),
            )
        return value

    return read


def yes_or_no(value: Any) -> bool:
    """Return a truth value."""
    if not isinstance(value, bool):
        raise SettingsError(
            say("{value} is neither true nor false.", value=value), say("Write true or false.")
        )
    return value


def size(value: Any) -> str:
    """Return the name of a size of recorder."""
    return instrument_named(str(value)).size


def with_size(values: dict[str, Any]) -> dict[str, Any]:
    """Return values of practice whose instrument has a size: its own, or the one it is named by.

    Raises
    ------
    SettingsError
        If an instrument is named whose size is not known.
    """
    named = values.get("instrument")
    if named is None:
        return {name: value for name, value in values.items() if name != "size"}
    by_name = size_that_is_named(named)
    if by_name is not None:
        return {**values, "instrument": by_name, "size": None}
    if values.get("size") is None:
        instrument_named(named)
    return values


def temperament(value: Any) -> str:
    """Return the name of a temperament that exists, ``"pure"`` or ``"own"``."""
    return str(value) if value in (PURE, OWN) else _named_temperament(str(value))


def _named_temperament(name: str) -> str:
    temperament_named(name)
    return name


def concert_pitch(value: Any) -> float:
    """Return A4 in hertz."""
    return concert_pitch_hz(str(value))


def note(value: Any) -> int:
    """Return a MIDI note number, given as such or as a note name."""
    midi = midi_of_note(value) if isinstance(value, str) else value
    if isinstance(midi, bool) or not isinstance(midi, int) or not 0 <= midi <= _HIGHEST_MIDI:
        raise SettingsError(
            say("{value} is not a note.", value=value), say('Write a note name, for example "F4".')
        )
    return midi


def loudness(value: Any) -> float:
    """Return the level of the reference in dB."""
    return _between(value, SOFTEST_DB, LOUDEST_DB, "dB")


def temperature(value: Any) -> float:
    """Return a room temperature in degrees Celsius."""
    return _between(value, COLDEST_C, WARMEST_C, say("degrees Celsius"))


def _between(value: Any, lowest: float, highest: float, unit: str) -> float:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number or math.isnan(value) or not lowest <= value <= highest:
        raise SettingsError(
            say("{value} is no such number.", value=value),
            say(
                "Give {unit} from {lowest:.0f} to {highest:.0f}.",
                unit=unit,
                lowest=lowest,
                highest=highest,
            ),
        )
    return float(value)
