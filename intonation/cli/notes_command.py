"""``intonation notes``: the held notes of one's practice, as a table or as CSV."""

import argparse
import sys
from collections.abc import Iterable
from pathlib import Path

from intonation.cli.dates import moment_typed
from intonation.cli.named_instruments import name_on_record
from intonation.cli.records import add_record_option, record_to_read
from intonation.heldnotes.exchange import csv_lines
from intonation.heldnotes.row import HeldNoteRow
from intonation.language import say
from intonation.report.held_note_table import held_note_lines, mean_lines
from intonation.report.look_back import look_back_lines
from intonation.store.store import Store
from intonation.words.trace import NOTHING_TO_SEE

LATEST = 20
"""So many notes are listed unless more or fewer are asked for; CSV has all of them."""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "notes",
        help=say("list the held notes of your practice"),
        description=say("List the held notes of your practice, the latest last."),
    )
    parser.add_argument("--player", metavar="NAME", help=say("only this player's"))
    parser.add_argument("--instrument", metavar="NAME", help=say("only on this instrument"))
    parser.add_argument("--session", metavar="NAME", help=say("only of this sitting"))
    parser.add_argument(
        "--since", metavar="DATE", help=say("only since this day, for example 2031-03-14")
    )
    parser.add_argument(
        "--last",
        metavar="N",
        type=_count,
        help=say("only the last N (default {latest}; --csv and --means take all)", latest=LATEST),
    )
    add_record_option(parser)
    output = parser.add_mutually_exclusive_group()
    output.add_argument("--csv", action="store_true", help=say("print the held-note table as CSV"))
    output.add_argument(
        "--look-back", action="store_true", help=say("draw the notes of the latest take over time")
    )
    output.add_argument(
        "--means", action="store_true", help=say("print every note's mean, spread and count")
    )


def run(arguments: argparse.Namespace) -> int:
    """Print held notes."""
    since = moment_typed(arguments.since)
    with _store(arguments.record) as store:
        arguments.instrument = name_on_record(store, arguments.instrument)
        chosen = {
            "player": arguments.player,
            "instrument": arguments.instrument,
            "session": arguments.session,
            "since": since,
        }
        if arguments.csv:
            sys.stdout.writelines(csv_lines(store.held_notes(**chosen, last=arguments.last)))
        elif arguments.look_back:
            _look_back(arguments, store)
        elif arguments.means:
            _print_lines(mean_lines(store.note_summaries(**chosen)))
        else:
            last = LATEST if arguments.last is None else arguments.last
            _print_table(list(store.held_notes(**chosen, last=last)), store)
    return 0


def _store(record: Path | None) -> Store:
    return record_to_read(record)


def _look_back(arguments: argparse.Namespace, store: Store) -> None:
    takes = store.traces.takes(
        player=arguments.player,
        instrument=arguments.instrument,
        session=arguments.session,
        last=1,
    )
    if not takes:
        print(NOTHING_TO_SEE)
    for take in takes:
        print(f"{take.began_at.astimezone():%Y-%m-%d %H:%M} · {take.player} · {take.instrument}\n")
        _print_lines(look_back_lines(store.traces.notes(take.number)))


def _print_table(rows: list[HeldNoteRow], store: Store) -> None:
    if rows:
        _print_lines(held_note_lines(rows))
    else:
        print(
            say(
                "No such note is kept in {path}. Notes are kept while you practise.",
                path=store.path,
            )
        )


def _print_lines(lines: Iterable[str]) -> None:
    sys.stdout.writelines(f"{line}\n" for line in lines)


def _count(text: str) -> int:
    if not text.isdecimal():
        raise argparse.ArgumentTypeError(say('"{text}" is not a whole number', text=text))
    return int(text)
