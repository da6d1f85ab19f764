"""Held notes that can be compared whatever they were held to: an instrument is judged by these.

A note held to a pure third, or in another temperament, had another target than the same note held
alone. Counted from equal temperament at the concert pitch of its take, each says the same of the
instrument.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from intonation.heldnotes.row import HeldNoteRow
from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz
from intonation.store.columns import IN_ORDER, SELECTED, Choice, row_of
from intonation.store.database import Database

_PAGE_ROWS = 5000
_PAGE = (
    f"SELECT {SELECTED}, n.target_hz, t.a4_hz FROM {IN_ORDER}"
    " LEFT JOIN takes AS t ON t.id = n.take_id"
)


def comparable_notes(
    database: Database,
    *,
    player: str | None = None,
    instrument: str | None = None,
    since: datetime | None = None,
) -> Iterator[HeldNoteRow]:
    """Yield held notes in the order in which they were kept, all from equal temperament.

    Parameters
    ----------
    database
        The practice record.
    player, instrument
        Names; None for all.
    since
        Only notes held at this moment or later; those without a date are left out.

    Notes
    -----
    A note whose target was not kept, such as one of a table, is taken as it is.
    """
    condition, parameters = Choice(player=player, instrument=instrument, since=since).condition()
    question = f"{_PAGE} WHERE n.event > ? AND {condition} ORDER BY n.event LIMIT {_PAGE_ROWS}"
    after = 0
    while page := database.read(question, [after, *parameters]):
        rows = [_comparable(values) for values in page]
        yield from rows
        after = rows[-1].event


def _comparable(values: Sequence[Any]) -> HeldNoteRow:
    *row, target_hz, a4_hz = values
    held = row_of(row)
    if target_hz is None or a4_hz is None:
        return held
    equal_hz = equal_tempered_hz(held.midi, a4_hz=a4_hz)
    return replace(held, cents=held.cents + cents_between(target_hz, target_hz=equal_hz))
