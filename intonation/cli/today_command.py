"""``intonation today``: a plan for today's practice, from the player's own record."""

import argparse
import sys
from datetime import datetime

from intonation.cli.named_instruments import recorder_on_record
from intonation.cli.records import add_record_option, record_to_read
from intonation.engine.habit_record import HabitRecord
from intonation.habits.practice_plan import LENGTHS, plan_of
from intonation.language import say
from intonation.report.plan_lines import plan_json, plan_lines
from intonation.store.places import settings_path
from intonation.store.settings import read_settings

_USUAL_MINUTES = 20


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "today",
        help=say("plan today's practice from your own record"),
        description=say(
            "Plan 10, 20 or 30 minutes of practice: warm-up, the notes most in need, intervals, an "
            "ear drill and a slow melody, each with the reason why. Under Y the interface leads "
            "through the same plan."
        ),
    )
    parser.add_argument("--player", metavar="NAME", help=say("whose (default: who played last)"))
    parser.add_argument(
        "--instrument", metavar="NAME", help=say("on what (default: what was played last)")
    )
    parser.add_argument(
        "--minutes", type=int, choices=LENGTHS, default=_USUAL_MINUTES, help=say("default 20")
    )
    add_record_option(parser)
    parser.add_argument("--json", action="store_true", help=say("print JSON"))


def run(arguments: argparse.Namespace) -> int:
    """Print the plan."""
    chosen = read_settings(settings_path()).settings.practice
    player = arguments.player or chosen.player
    with record_to_read(arguments.record) as store:
        named = arguments.instrument
        instrument = recorder_on_record(store, named) if named else chosen.recorder
        choices = HabitRecord(store, _now).today(player, instrument)
    plan = plan_of(choices, minutes=arguments.minutes)
    if arguments.json:
        sys.stdout.write(plan_json(plan, choices, player=player))
    else:
        lines = plan_lines(plan, choices, player=player)
        sys.stdout.writelines(f"{line}\n" for line in lines)
    return 0


def _now() -> datetime:
    return datetime.now().astimezone()
