"""``intonation sheet``: one printable page about an instrument for its maker."""

import argparse
from pathlib import Path

from intonation.cli.workbenches import add_instrument_options, bench_and_pair
from intonation.engine.sheet import sheet_of
from intonation.language import say
from intonation.report.maker_sheet import maker_sheet_html
from intonation.report.pages.files import write_report
from intonation.report.pages.parts import WrittenReport


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "sheet",
        help=say("write a page about an instrument for its maker"),
        description=say(
            "Write one page to print, as HTML for any browser, or as PDF if its name ends in .pdf "
            "and WeasyPrint is installed: offsets with intervals, octaves, likely causes, and what "
            "was tried."
        ),
    )
    add_instrument_options(parser)
    parser.add_argument(
        "--output",
        metavar="FILE",
        type=Path,
        default=Path("maker-sheet.html"),
        help=say("the page (default: maker-sheet.html)"),
    )
    parser.add_argument("--note", default="", metavar="TEXT", help=say("a word of your own"))


def run(arguments: argparse.Namespace) -> int:
    """Write the page."""
    with bench_and_pair(arguments) as (bench, player, instrument):
        page = maker_sheet_html(sheet_of(bench, player, instrument, note=arguments.note))
    write_report(WrittenReport(page, None), arguments.output)
    print(say("{output} is ready to be printed.", output=arguments.output))
    return 0
