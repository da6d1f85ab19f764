"""``intonation report``: a page to print of a sitting, a player, an instrument, or for a lesson."""

import argparse
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from intonation.cli.dates import moment_typed
from intonation.cli.named_instruments import name_on_record
from intonation.cli.records import add_record_option, record_to_read
from intonation.engine.reporting import Reporting
from intonation.errors import SettingsError
from intonation.language import say
from intonation.report.pages.files import write_drawing, write_report
from intonation.report.pages.instrument_page import instrument_page
from intonation.report.pages.lesson_page import lesson_page
from intonation.report.pages.parts import WrittenReport
from intonation.report.pages.player_page import player_page
from intonation.report.pages.session_page import SessionReport, session_page
from intonation.report.pages.trace_plot import trace_plot
from intonation.store.places import settings_path
from intonation.store.settings import read_settings

KINDS = ("session", "player", "instrument", "lesson")


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "report",
        help=say("write a page to print: a session, a player over time, an instrument, a lesson"),
        description=say(
            "Write a page to print: one HTML file with everything in it, for any browser, or a "
            "PDF if its name ends in .pdf and WeasyPrint is installed. It holds drawings, the "
            "same as numbers, and how surely they are known."
        ),
    )
    parser.add_argument("kind", choices=KINDS, help=say("what about"))
    parser.add_argument("--player", metavar="NAME", help=say("whose (default: who played last)"))
    parser.add_argument("--instrument", metavar="NAME", help=say("on what (default: the last one)"))
    parser.add_argument(
        "--session", metavar="NAME", help=say("which sitting (default: the latest)")
    )
    parser.add_argument("--take", metavar="N", type=int, help=say("only one take of the sitting"))
    parser.add_argument(
        "--since", metavar="DATE", help=say("day of the last lesson (default: a week before)")
    )
    parser.add_argument(
        "--note", default="", metavar="TEXT", help=say("a word of your own at the top")
    )
    parser.add_argument(
        "--output", metavar="FILE", type=Path, help=say("the page (default: report-KIND.html)")
    )
    parser.add_argument(
        "--plot", metavar="FILE", type=Path, help=say("write only the main drawing, .svg or .png")
    )
    parser.add_argument(
        "--held-note",
        metavar="N",
        type=int,
        help=say("let --plot draw this note of the take over time"),
    )
    add_record_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the page, or the drawing."""
    written = _written(arguments)
    if arguments.plot is not None:
        write_drawing(written, arguments.plot)
    if arguments.plot is None or arguments.output is not None:
        path = arguments.output or Path(f"report-{arguments.kind}.html")
        write_report(written, path)
        print(say("{path} is ready to be printed.", path=path))
    return 0


def _written(arguments: argparse.Namespace) -> WrittenReport:
    chosen = read_settings(settings_path()).settings.practice
    player = arguments.player or chosen.player
    with record_to_read(arguments.record) as store:
        instrument = name_on_record(store, arguments.instrument) or chosen.instrument
        reporting = Reporting(store, lambda: datetime.now().astimezone())
        return _page(arguments, reporting, player, instrument)


def _page(
    arguments: argparse.Namespace, reporting: Reporting, player: str, instrument: str
) -> WrittenReport:
    remark = arguments.note
    match arguments.kind:
        case "player":
            return player_page(reporting.player(player, remark=remark))
        case "instrument":
            return instrument_page(reporting.instrument(instrument, remark=remark))
        case "lesson":
            since = moment_typed(arguments.since)
            return lesson_page(reporting.lesson(player, instrument, since=since, remark=remark))
    session = reporting.session(
        player, instrument, session=arguments.session, take=arguments.take, remark=remark
    )
    return _about_note(session_page(session), session, arguments.held_note)


def _about_note(
    written: WrittenReport, session: SessionReport, number: int | None
) -> WrittenReport:
    """Return a report whose main drawing is that of one held note, if one is asked for."""
    if number is None:
        return written
    note = next((note for note in session.held if note.number == number), None)
    if note is None or note.trace is None:
        raise SettingsError(
            say("There is no picture of note {number} in this sitting.", number=number),
            say("Notes are numbered through each take; name the take with --take."),
        )
    return replace(written, drawing=trace_plot(note))
