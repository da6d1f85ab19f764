"""``intonation tunings``: the temperaments, their definitions and their cents."""

import argparse

from intonation.cli.own_files import temperament_asked_for
from intonation.language import say
from intonation.pitch.concert_pitch import concert_pitch_hz
from intonation.pitch.temperaments import TEMPERAMENTS, Temperament
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


def run(arguments: argparse.Namespace) -> int:
    """Print the temperaments."""
    a4_hz = concert_pitch_hz(arguments.a4)
    chosen = _chosen(arguments)
    if arguments.json:
        print(tunings_json(chosen, a4_hz=a4_hz))
    else:
        with_hz = bool(arguments.names or arguments.file)
        print(*tuning_lines(chosen, a4_hz=a4_hz, with_hz=with_hz), sep="\n")
    return 0


def _chosen(arguments: argparse.Namespace) -> list[Temperament]:
    names = [*arguments.names, *([arguments.file] if arguments.file else [])]
    return [temperament_asked_for(name) for name in names] or list(TEMPERAMENTS.values())
