"""``intonation doctor``: what is there, what is missing, and the command that installs it."""

import argparse

from intonation.cli.examination import found_here
from intonation.engine.messages import SoundSettings
from intonation.engine.sound_findings import found_in_sound
from intonation.language import say
from intonation.report.findings import all_well, finding_lines


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "doctor",
        help=say("check libraries, files and sound, and say what is missing"),
        description=say("Check libraries, files and sound devices, and say what is missing."),
    )
    parser.add_argument(
        "--sound",
        action="store_true",
        help=say("also listen to the room for a second, then play a soft chirp and a soft tone"),
    )
    parser.add_argument("--microphone", metavar="NAME", help=say("the microphone to listen with"))
    parser.add_argument("--output", metavar="NAME", help=say("the output to play on"))


def run(arguments: argparse.Namespace) -> int:
    """Print what was found; the exit code is 1 if there is something to look at."""
    sound = SoundSettings(microphone=arguments.microphone, output=arguments.output)
    findings = found_here(sound)
    if arguments.sound:
        findings = (*findings, *found_in_sound(sound))
    for line in finding_lines(findings):
        print(line)
    return 0 if all_well(findings) else 1
