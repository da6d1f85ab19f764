"""``intonation habits``: where each note of a player usually lies."""

import argparse
import sys
from datetime import datetime

from intonation.cli.named_instruments import name_on_record
from intonation.cli.records import add_record_option, record_to_read
from intonation.engine.habit_record import HabitRecord
from intonation.language import say
from intonation.report.habit_table import habit_csv, habit_json, habit_lines
from intonation.store.places import settings_path
from intonation.store.settings import read_settings


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "habits",
        help=say("show where each of your notes usually lies, and what that goes with"),
        description=say(
            "Show where each note of a player usually lies, how that changes over the weeks, and "
            "what it goes with: the note before, its length, its loudness, the reference."
        ),
    )
    parser.add_argument("--player", metavar="NAME", help=say("whose (default: who played last)"))
    parser.add_argument(
        "--instrument", metavar="NAME", help=say("on what (default: what was played last)")
    )
    add_record_option(parser)
    output = parser.add_mutually_exclusive_group()
    output.add_argument("--json", action="store_true", help=say("print JSON"))
    output.add_argument("--csv", action="store_true", help=say("print a row for every note as CSV"))


def run(arguments: argparse.Namespace) -> int:
    """Print the habits."""
    chosen = read_settings(settings_path()).settings.practice
    player = arguments.player or chosen.player
    with record_to_read(arguments.record) as store:
        instrument = name_on_record(store, arguments.instrument) or chosen.instrument
        record = HabitRecord(store, _now)
        habits = record.habits(player, instrument)
        owners = record.owners(player, instrument)
    if arguments.json:
        written = habit_json(habits, player=player, instrument=instrument, owners=owners)
    elif arguments.csv:
        written = habit_csv(habits, player=player, instrument=instrument, owners=owners)
    else:
        lines = habit_lines(habits, player=player, instrument=instrument, owners=owners)
        written = "".join(f"{line}\n" for line in lines)
    sys.stdout.write(written)
    return 0


def _now() -> datetime:
    return datetime.now().astimezone()
