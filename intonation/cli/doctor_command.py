"""``intonation doctor``: what is there, what is missing, and the command that installs it."""

import argparse

from intonation.cli.examination import found_here
from intonation.report.findings import all_well, finding_lines


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    subparsers.add_parser(
        "doctor",
        help="check libraries, files and sound, and say what is missing",
        description="Check libraries, files and sound devices, and say what is missing.",
    )


def run(_arguments: argparse.Namespace) -> int:
    """Print what was found; the exit code is 1 if practice cannot go on as it should."""
    findings = found_here()
    for line in finding_lines(findings):
        print(line)
    return 0 if all_well(findings) else 1
