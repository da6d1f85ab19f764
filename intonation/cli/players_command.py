"""``intonation players``: whose notes are kept, and players compared on one instrument."""

import argparse
import sys
from collections.abc import Iterable
from datetime import datetime

from intonation.cli.named_instruments import name_on_record
from intonation.cli.records import add_record_option, record_to_read
from intonation.engine.players import PlayersDesk
from intonation.errors import SettingsError
from intonation.language import say
from intonation.report.paragraphs import paragraph
from intonation.report.player_table import MOST_COMPARED, compared_lines, pair_lines
from intonation.words.report import COMPARED


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "players",
        help=say("list players and their instruments, or compare players on one"),
        description=say(
            "List every player and instrument of the practice record. With --instrument, compare "
            "its players note by note: mean cents from the target, and how far apart they are."
        ),
    )
    parser.add_argument("--instrument", metavar="NAME", help=say("compare the players of this one"))
    add_record_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the players."""
    with record_to_read(arguments.record) as store:
        desk = PlayersDesk(store, lambda: datetime.now().astimezone())
        if arguments.instrument is None:
            pairs = desk.pairs()
            if not pairs:
                print(say("Nobody's notes are kept yet. Notes are kept while you practise."))
            _print(pair_lines(pairs) if pairs else ())
            return 0
        instrument = name_on_record(store, arguments.instrument) or arguments.instrument
        players = desk.compared(instrument)
    if not players:
        raise SettingsError(
            say('Nobody has played "{instrument}" yet.', instrument=instrument),
            say("See `intonation players` for the instruments that there are."),
        )
    _print(compared_lines(players))
    if len(players) > MOST_COMPARED:
        print(
            say(
                "\nThe {most} who held most notes, of {count}.",
                most=MOST_COMPARED,
                count=len(players),
            )
        )
    _print(["", *paragraph(COMPARED)])
    return 0


def _print(lines: Iterable[str]) -> None:
    sys.stdout.writelines(f"{line}\n" for line in lines)
