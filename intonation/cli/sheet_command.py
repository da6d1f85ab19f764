"""``intonation sheet``: one printable page about an instrument for its maker."""

import argparse
from pathlib import Path

from intonation.cli.workbenches import add_instrument_options, bench_and_pair
from intonation.engine.sheet import sheet_of
from intonation.errors import SettingsError
from intonation.report.maker_sheet import maker_sheet_html


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "sheet",
        help="write a page about an instrument for its maker",
        description=(
            "Write one HTML page that any browser can show and print: offsets with intervals, "
            "octaves, likely causes, and what was tried."
        ),
    )
    add_instrument_options(parser)
    parser.add_argument(
        "--output", metavar="FILE", type=Path, default=Path("maker-sheet.html"), help="the page"
    )
    parser.add_argument("--note", default="", metavar="TEXT", help="a word of your own")


def run(arguments: argparse.Namespace) -> int:
    """Write the page."""
    with bench_and_pair(arguments) as (bench, player, instrument):
        page = maker_sheet_html(sheet_of(bench, player, instrument, note=arguments.note))
    try:
        arguments.output.write_text(page, "utf-8")
    except OSError as fault:
        raise SettingsError(
            f"{arguments.output} cannot be written ({fault.strerror}).", "Choose another --output."
        ) from None
    print(f"{arguments.output} is ready to be printed.")
    return 0
