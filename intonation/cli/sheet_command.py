"""``intonation sheet``: one printable page about an instrument for its maker."""

import argparse
from datetime import datetime
from pathlib import Path
from statistics import fmean

from intonation.cli.workbenches import add_instrument_options, bench_and_pair, examined
from intonation.engine.workbench import Workbench
from intonation.errors import SettingsError
from intonation.instruments.library import instrument_named
from intonation.report.maker_sheet import MakerSheet, maker_sheet_html


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
        page = maker_sheet_html(_sheet(bench, player, instrument, arguments.note))
    try:
        arguments.output.write_text(page, "utf-8")
    except OSError as fault:
        raise SettingsError(
            f"{arguments.output} cannot be written ({fault.strerror}).", "Choose another --output."
        ) from None
    print(f"{arguments.output} is ready to be printed.")
    return 0


def _sheet(bench: Workbench, player: str, instrument: str, note: str) -> MakerSheet:
    rows = bench.store.held_notes(player=player, instrument=instrument)
    celsius = [row.temperature_c for row in rows if row.temperature_c is not None]
    held = bench.store.sessions(player=player, instrument=instrument)
    sessions = {session.session for session in held}
    pitches = {take.a4_hz for take in bench.store.takes() if take.session in sessions}
    size = instrument_named(bench.sizes.get(instrument, instrument))
    return MakerSheet(
        examination=examined(bench, player, instrument),
        written_at=datetime.now().astimezone(),
        a4_hz=pitches.pop() if len(pitches) == 1 else None,
        temperature_c=fmean(celsius) if celsius else None,
        size=f"{size.title}, {size.chart.title}",
        proofs=tuple(bench.prove(trial) for trial in bench.trials(player, instrument)),
        note=note,
    )
