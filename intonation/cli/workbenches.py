"""The workbench that a command works at: the practice record, or a held-note table."""

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from intonation.cli.named_instruments import name_on_record
from intonation.cli.records import add_record_option, record_to_read
from intonation.engine.workbench import Workbench
from intonation.errors import DataFileError, SettingsError
from intonation.heldnotes.exchange import rows_in
from intonation.language import say
from intonation.store.own_geometries import OwnGeometries, read_geometry
from intonation.store.places import own_geometries_path
from intonation.store.store import Store
from intonation.words.workshop import TOO_FEW_NOTES


def add_source_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say where the notes come from."""
    parser.add_argument(
        "--held-notes", metavar="FILE", type=Path, help=say("read a held-note table (CSV) instead")
    )
    add_record_option(parser)
    parser.add_argument(
        "--geometry", metavar="FILE", type=Path, help=say("the instrument's own dimensions (TOML)")
    )
    parser.add_argument(
        "--player", metavar="NAME", help=say("whose notes (needed if there are several)")
    )


def add_instrument_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say which instrument is meant."""
    add_source_options(parser)
    parser.add_argument(
        "--instrument", metavar="NAME", help=say("the instrument's name in the record")
    )
    parser.add_argument("--size", metavar="SIZE", help=say("its size, if its name does not say it"))


@contextmanager
def workbench(arguments: argparse.Namespace, sizes: dict[str, str]) -> Iterator[Workbench]:
    """Yield a workbench at the record, or at a record in memory that holds a table's notes."""
    geometry = None if arguments.geometry is None else read_geometry(arguments.geometry)
    remembered = OwnGeometries(own_geometries_path())
    with _store(arguments) as store:
        yield Workbench(store, lambda: datetime.now().astimezone(), sizes, geometry, remembered)


def _store(arguments: argparse.Namespace) -> Store:
    if arguments.held_notes is None:
        return record_to_read(arguments.record)
    store = Store(None)
    try:
        with arguments.held_notes.open(encoding="utf-8-sig", newline="") as lines:
            store.add_held_notes(rows_in(lines, file_name=str(arguments.held_notes)))
    except (OSError, UnicodeDecodeError) as fault:
        raise DataFileError(
            say(
                "{held_notes} cannot be read ({fault}).",
                held_notes=arguments.held_notes,
                fault=fault,
            ),
            say("Check its name, and that it is CSV in UTF-8."),
        ) from None
    return store


@contextmanager
def bench_and_pair(arguments: argparse.Namespace) -> Iterator[tuple[Workbench, str, str]]:
    """Yield a workbench with the player and the instrument that are meant."""
    sizes = {arguments.instrument or "": arguments.size} if arguments.size else {}
    with workbench(arguments, sizes) as bench:
        player, instrument = _pair(arguments, bench.store)
        if arguments.size:
            bench.sizes = {instrument: arguments.size}
        yield bench, player, instrument


def _pair(arguments: argparse.Namespace, store: Store) -> tuple[str, str]:
    instrument = name_on_record(store, arguments.instrument)
    sessions = store.sessions(player=arguments.player, instrument=instrument)
    pairs = {(session.player, session.instrument) for session in sessions}
    if len(pairs) == 1:
        return pairs.pop()
    known = "; ".join(
        say("{player} on {instrument}", player=player, instrument=instrument)
        for player, instrument in sorted(pairs)[:6]
    )
    raise SettingsError(
        say("Several players and instruments fit.") if pairs else say("No such notes are kept."),
        say("Choose with --player and --instrument from: {known}.", known=known)
        if pairs
        else TOO_FEW_NOTES,
    )
