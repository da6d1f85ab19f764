"""Which microphones, outputs and keyboards the system has, or why none can be listed."""

from collections.abc import Iterable
from contextlib import closing
from dataclasses import dataclass, replace

from intonation.app import sounds_words as words
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
    """Return the system's devices; takes a moment, so call it on a thread.

    A process of its own searches: what the system's libraries print meanwhile would stand all over
    the screen, and only a new process sees devices that were plugged in since.
    """
    from intonation.engine.apart import asked_apart

    with closing(asked_apart(__name__, None)) as answers:
        for answer in answers:
            if isinstance(answer, DevicesFound):
                return answer
    return DevicesFound(trouble=words.SEARCH_BROKE_OFF)


def main() -> None:
    """Search, and answer with what was found."""
    from intonation.engine.apart import question_and_sender

    _, sender = question_and_sender()
    sender.send(found_here())


def found_here() -> DevicesFound:
    """Return the system's devices as this process sees them."""
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
