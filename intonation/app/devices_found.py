"""Which microphones and outputs the system has, or why none can be listed."""

from dataclasses import dataclass

from intonation.errors import IntonationError


@dataclass(frozen=True, slots=True)
class DevicesFound:
    """Names of devices.

    Parameters
    ----------
    microphones, outputs
        In the system's order.
    trouble
        A sentence, where devices cannot be listed.
    """

    microphones: tuple[str, ...] = ()
    outputs: tuple[str, ...] = ()
    trouble: str | None = None


def search_devices() -> DevicesFound:
    """Return the system's devices; takes a moment, so call it on a thread."""
    from intonation.audio.devices import sound_devices

    try:
        devices = sound_devices()
    except IntonationError as error:
        return DevicesFound(trouble=str(error))
    return DevicesFound(
        tuple(dict.fromkeys(device.name for device in devices if device.serves("microphone"))),
        tuple(dict.fromkeys(device.name for device in devices if device.serves("output"))),
    )
