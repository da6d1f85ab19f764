"""``intonation tunings``: the temperaments, their definitions and their cents."""

import argparse
from pathlib import Path

from intonation.cli.own_files import temperament_asked_for
from intonation.errors import SettingsError
from intonation.language import say
from intonation.pitch.concert_pitch import concert_pitch_hz
from intonation.pitch.midi_tuning import bulk_dump
from intonation.pitch.temperaments import TEMPERAMENTS, Temperament
from intonation.pitch.tuning import tempered
from intonation.report.tuning_tables import tuning_lines, tunings_json


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command and its options."""
    parser = subparsers.add_parser(
        "tunings",
        help=say("list the temperaments with their cents and sources"),
        description=say(
            "List the temperaments. Just intonation stands on any tonic (just-on-F), and the wolf "
            "of a meantone can be put elsewhere (quarter-comma-meantone-wolf-C#-Ab)."
        ),
    )
    parser.add_argument(
        "names", nargs="*", metavar="NAME", help=say("only these, with frequencies")
    )
    parser.add_argument(
        "--a4", default="440", metavar="HZ", help=say("concert pitch (default: 440)")
    )
    parser.add_argument("--json", action="store_true", help=say("print JSON"))
    parser.add_argument(
        "--file", metavar="OWN.toml", help=say("a temperament of your own, from its file")
    )
    parser.add_argument(
        "--midi",
        metavar="OUT.syx",
        type=Path,
        help=say("write one temperament as the MIDI message that tunes a keyboard"),
    )


def run(arguments: argparse.Namespace) -> int:
    """Print the temperaments, or write one for a keyboard."""
    a4_hz = concert_pitch_hz(arguments.a4)
    chosen = _chosen(arguments)
    if arguments.midi is not None:
        _write_midi(chosen, arguments.midi, a4_hz=a4_hz)
    elif arguments.json:
        print(tunings_json(chosen, a4_hz=a4_hz))
    else:
        with_hz = bool(arguments.names or arguments.file)
        print(*tuning_lines(chosen, a4_hz=a4_hz, with_hz=with_hz), sep="\n")
    return 0


def _write_midi(chosen: list[Temperament], path: Path, *, a4_hz: float) -> None:
    """Write a temperament as a bulk dump of the MIDI Tuning Standard."""
    if len(chosen) != 1:
        raise SettingsError(
            say("A keyboard has one tuning at a time."), say("Name one temperament.")
        )
    (temperament,) = chosen
    tuning = tempered(temperament, a4_hz=a4_hz)
    try:
        path.write_bytes(bulk_dump(temperament.name, [tuning.hz(key) for key in range(128)]))
    except OSError as fault:
        raise SettingsError(
            say("{path} cannot be written ({strerror}).", path=path, strerror=fault.strerror),
            say("Choose another file or folder."),
        ) from None
    print(say("{path} is ready to be sent to a keyboard.", path=path))


def _chosen(arguments: argparse.Namespace) -> list[Temperament]:
    names = [*arguments.names, *([arguments.file] if arguments.file else [])]
    return [temperament_asked_for(name) for name in names] or list(TEMPERAMENTS.values())
