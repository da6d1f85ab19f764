"""Held notes as rows of SQL: how they are written, and how they are asked for."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import UTC, datetime
from typing import Any

from intonation.heldnotes.row import HeldNoteRow
from intonation.store.database import Parameter
from intonation.store.details import HeldNoteDetails

_NAMES_ELSEWHERE = ("event", "player", "instrument", "session")
_FLAGS = ("reference", "blind")
_ROW = tuple(field.name for field in fields(HeldNoteRow))
_OF_ROW = tuple(name for name in _ROW if name not in _NAMES_ELSEWHERE)
_OF_DETAILS = tuple(field.name for field in fields(HeldNoteDetails))
_QUOTED = [f'"{name}"' for name in ("session_id", "take_id", "held_at", *_OF_ROW, *_OF_DETAILS)]

JOINED = """held_notes AS n
    JOIN sessions AS s ON s.id = n.session_id
    JOIN players AS p ON p.id = s.player_id
    JOIN instruments AS i ON i.id = s.instrument_id"""
"""The held notes with the names that belong to them."""

IN_ORDER = JOINED.replace("held_notes AS n", "held_notes AS n NOT INDEXED")
"""The same, read in the order in which they were kept: a page of many costs no sorting of all."""

_SOURCES = {"player": "p.name", "instrument": "i.name", "session": "s.name"}

INSERT = f"INSERT INTO held_notes ({', '.join(_QUOTED)}) VALUES ({', '.join('?' * len(_QUOTED))})"
"""Keeps one held note; the store gives it its number."""

SELECTED = ", ".join(_SOURCES.get(name, f'n."{name}"') for name in _ROW)
"""Columns of a held-note row, in the order of its fields."""


def utc_text(moment: datetime | None) -> str | None:
    """Return a moment as text that sorts by time; a moment without a zone is local."""
    if moment is None:
        return None
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def moment_of(text: str) -> datetime:
    """Return the moment that `utc_text` has written."""
    return datetime.fromisoformat(text)


def written(
    row: HeldNoteRow,
    details: HeldNoteDetails,
    *,
    session_id: int,
    take_id: int | None = None,
    held_at: datetime | None = None,
) -> tuple[Parameter, ...]:
    """Return the parameters of `INSERT`."""
    return (
        session_id,
        take_id,
        utc_text(held_at),
        *(getattr(row, name) for name in _OF_ROW),
        *(getattr(details, name) for name in _OF_DETAILS),
    )


def row_of(values: Sequence[Any]) -> HeldNoteRow:
    """Return the held-note row of what `SELECTED` has found."""
    named = dict(zip(_ROW, values, strict=True))
    for flag in _FLAGS:
        named[flag] = bool(named[flag])
    return HeldNoteRow(**named)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Which held notes are meant. None does not restrict.

    Parameters
    ----------
    player, instrument, session
        Names.
    since
        The earliest moment; notes without a date are then left out.
    """

    player: str | None = None
    instrument: str | None = None
    session: str | None = None
    since: datetime | None = None

    def condition(self) -> tuple[str, list[Parameter]]:
        """Return the condition on `JOINED` and its parameters."""
        conditions = {
            "p.name = ?": self.player,
            "i.name = ?": self.instrument,
            "s.name = ?": self.session,
            "n.held_at >= ?": utc_text(self.since),
        }
        meant = {text: value for text, value in conditions.items() if value is not None}
        return " AND ".join(["1", *meant]), list(meant.values())
