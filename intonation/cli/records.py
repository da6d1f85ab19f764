"""The practice record that a command reads: the usual one, or another that is named."""

import argparse
import sys
from pathlib import Path

from intonation.language import say
from intonation.store.opening import open_for_reading
from intonation.store.places import record_path
from intonation.store.store import Store


def add_record_option(parser: argparse.ArgumentParser) -> None:
    """Add the option that names another record."""
    parser.add_argument(
        "--record",
        metavar="FILE",
        type=Path,
        help=say("another practice record than the usual one"),
    )


def record_to_read(record: Path | None) -> Store:
    """Return the record of this name, or the usual one; what is wrong with its file is printed.

    Raises
    ------
    StoreError
        If it cannot be read, and nothing was kept in its place.
    """
    opened = open_for_reading(record or record_path())
    if opened.complaint is not None:
        print(opened.complaint, file=sys.stderr)
    return opened.store
