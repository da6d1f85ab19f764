"""Which microphones, outputs and keyboards the system has, or why none can be listed."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from intonation.errors import IntonationError


@dataclass(frozen=True, slots=True)
class DevicesFound:
    """Names of devices.

    Parameters
    ----------
    microphones, outputs
        In the system's order.
    trouble
        A sentence, where these cannot be listed.
    keyboards
        MIDI keyboards.
    keyboard_trouble
        A sentence, where those cannot be listed.
    fluidsynth_trouble
        A sentence, where FluidSynth cannot be used.
    """

    microphones: tuple[str, ...] = ()
    outputs: tuple[str, ...] = ()
    trouble: str | None = None
    keyboards: tuple[str, ...] = ()
    keyboard_trouble: str | None = None
    fluidsynth_trouble: str | None = None


def search_devices() -> DevicesFound:
    """Return the system's devices; takes a moment, so call it on a thread."""
    from intonation.audio.devices import sound_devices
    from intonation.synth.fluid_library import why_no_fluidsynth

    found = _with_keyboards(DevicesFound(fluidsynth_trouble=why_no_fluidsynth()))
    try:
        devices = sound_devices()
    except IntonationError as error:
        return replace(found, trouble=str(error))
    return replace(
        found,
        microphones=_names(one.name for one in devices if one.serves("microphone")),
        outputs=_names(one.name for one in devices if one.serves("output")),
    )


def _with_keyboards(found: DevicesFound) -> DevicesFound:
    from intonation.interchange.midi_keyboard import keyboard_names

    try:
        return replace(found, keyboards=_names(keyboard_names()))
    except IntonationError as error:
        return replace(found, keyboard_trouble=str(error))


def _names(names: Iterable[str]) -> tuple[str, ...]:
    """Return names without repetition."""
    return tuple(dict.fromkeys(names))
