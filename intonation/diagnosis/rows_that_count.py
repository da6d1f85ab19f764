"""Rows that count: deviations that can be, and each tone once, however often it was pasted in."""

from collections.abc import Iterable, Sequence
from dataclasses import fields
from operator import attrgetter

from intonation.heldnotes.columns import LARGEST_CENTS
from intonation.heldnotes.row import HeldNoteRow

_MOST_ROWS = 20_000
"""Longer tables come from a record, which keeps every tone once."""
_ALL_BUT_ITS_NUMBER = attrgetter(*(f.name for f in fields(HeldNoteRow) if f.name != "event"))


def rows_that_count(rows: Sequence[HeldNoteRow]) -> list[HeldNoteRow]:
    """Return the rows without impossible deviations and without copies of other rows."""
    possible = [row for row in rows if abs(row.cents) <= LARGEST_CENTS]
    return possible if len(possible) > _MOST_ROWS else _each_once(possible)


def _each_once(rows: Iterable[HeldNoteRow]) -> list[HeldNoteRow]:
    """Return the first of rows that differ in nothing but their number.

    Two tones may well be alike; at the same moment there was only one.
    """
    found: dict[object, HeldNoteRow] = {}
    for row in rows:
        timed = row.minutes is not None or row.order is not None
        found.setdefault(_ALL_BUT_ITS_NUMBER(row) if timed else row.event, row)
    return list(found.values())
