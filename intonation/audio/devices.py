"""Microphones and outputs. The one module that imports sounddevice, and only when asked."""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from types import ModuleType
from typing import Literal

from intonation.errors import SetupError
from intonation.install_hints import install_command
from intonation.language import name_in_words, say

Direction = Literal["microphone", "output"]


@dataclass(frozen=True, slots=True)
class SoundDevice:
    """One device of the system.

    Parameters
    ----------
    index
        Its number in PortAudio.
    name, host
        What it is called, and the part of the system that serves it.
    input_channels, output_channels
        How many channels it has each way; 0 if it has none.
    is_default_input, is_default_output
        Whether the system chooses it when nobody does.
    """

    index: int
    name: str
    host: str
    input_channels: int
    output_channels: int
    is_default_input: bool = False
    is_default_output: bool = False

    def serves(self, direction: Direction) -> bool:
        """Whether it is a microphone, or an output."""
        channels = self.input_channels if direction == "microphone" else self.output_channels
        return channels > 0

    def is_default(self, direction: Direction) -> bool:
        """Whether it is the system's choice in a direction."""
        return self.is_default_input if direction == "microphone" else self.is_default_output


def portaudio() -> ModuleType:
    """Return the sounddevice module.

    Raises
    ------
    SetupError
        If PortAudio or sounddevice is missing.
    """
    try:
        import sounddevice
    except (ImportError, OSError) as cause:
        raise SetupError(
            say(
                "The library that reaches microphone and loudspeaker (PortAudio) is missing; "
                "recordings and the simulated player work without it."
            ),
            say("Install it with: {command}", command=install_command("portaudio")),
        ) from cause
    return sounddevice  # type: ignore[no-any-return]


def look_again() -> None:
    """Make PortAudio notice devices that came or went. Every stream must be closed."""
    library = portaudio()
    library._terminate()
    library._initialize()


def sound_devices() -> tuple[SoundDevice, ...]:
    """Return every device of the system.

    Raises
    ------
    SetupError
        If PortAudio is missing.
    """
    library = portaudio()
    default_input, default_output = library.default.device
    hosts = [host["name"] for host in library.query_hostapis()]
    return tuple(
        SoundDevice(
            index=device["index"],
            name=device["name"],
            host=hosts[device["hostapi"]],
            input_channels=device["max_input_channels"],
            output_channels=device["max_output_channels"],
            is_default_input=device["index"] == default_input,
            is_default_output=device["index"] == default_output,
        )
        for device in library.query_devices()
    )


def choose_device(
    devices: Sequence[SoundDevice], direction: Direction, name: str | None
) -> SoundDevice:
    """Return the device of a name, or the system's own choice if there is no name.

    Parameters
    ----------
    devices
        Those to choose from.
    direction
        Microphone or output.
    name
        Its whole name or a part of it that only one device has; upper and lower case are alike.

    Raises
    ------
    SetupError
        If there is no such device, or several.
    """
    fitting = [device for device in devices if device.serves(direction)]
    if not fitting:
        raise SetupError(
            say("This system has no {direction}.", direction=name_in_words(direction)),
            say("Plug one in or switch it on; `intonation devices` lists what is found."),
        )
    if name is None:
        return next((device for device in fitting if device.is_default(direction)), fitting[0])
    exact = [device for device in fitting if device.name.lower() == name.lower()]
    found = exact or [device for device in fitting if name.lower() in device.name.lower()]
    if not found:
        raise SetupError(
            say('There is no {direction} "{name}".', direction=name_in_words(direction), name=name),
            _suggestion(name, fitting),
        )
    if len(found) > 1 and not exact:
        names = ", ".join(f'"{device.name}"' for device in found)
        raise SetupError(
            say('"{name}" fits several devices: {names}.', name=name, names=names),
            say("Give the whole name."),
        )
    return found[0]


def _suggestion(name: str, fitting: Sequence[SoundDevice]) -> str:
    names = {device.name.lower(): device.name for device in fitting}
    near = get_close_matches(name.lower(), names, n=3, cutoff=0.4) or list(names)[:5]
    return say("Found here: {near}.", near=", ".join(names[one] for one in near))
