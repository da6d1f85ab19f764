"""``intonation devices``: the microphones and outputs of this system."""

import argparse
from collections.abc import Iterable, Iterator

from intonation.audio.devices import Direction, SoundDevice, sound_devices
from intonation.language import name_in_words, say
from intonation.report.table import Column, table_lines

_COLUMNS = (
    Column(say("name"), numeric=False),
    Column(say("by way of"), numeric=False),
    Column(say("channels")),
    Column("", numeric=False),
)


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    subparsers.add_parser(
        "devices",
        help=say("list microphones and outputs"),
        description=say("List the microphones and outputs that this system offers."),
    )


def run(_arguments: argparse.Namespace) -> int:
    """Print the devices."""
    devices = sound_devices()
    for line in (*_lines("microphone", devices), "", *_lines("output", devices)):
        print(line)
    return 0


def _lines(direction: Direction, devices: Iterable[SoundDevice]) -> Iterator[str]:
    fitting = [device for device in devices if device.serves(direction)]
    yield say("Microphones") if direction == "microphone" else say("Outputs")
    if not fitting:
        yield say(
            "No {direction} is found. Plug one in or switch it on, and look again.",
            direction=name_in_words(direction),
        )
        return
    yield from table_lines(_COLUMNS, (_cells(device, direction) for device in fitting))


def _cells(device: SoundDevice, direction: Direction) -> tuple[str, ...]:
    channels = device.input_channels if direction == "microphone" else device.output_channels
    usual = say("used unless you choose another") if device.is_default(direction) else ""
    return (device.name, device.host, str(channels), usual)
