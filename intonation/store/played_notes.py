"""The notes that a player's habits are worked out from: the latest weeks, at most so many."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any

from intonation.habits.played import PlayedNote
from intonation.store.columns import moment_of, utc_text
from intonation.store.database import Database

LATEST_DAYS = 84
"""What was played in the twelve weeks up to the last sitting is what a player usually does (design
judgement)."""

MOST_NOTES = 8_000
"""Of a longer list only the latest so many count; more would not make any estimate surer."""

_MOST_SITTINGS = 2000
_AFTER_ALL = "~"
"""Sorts after the text of every moment."""

_SITTINGS = """SELECT s.id, coalesce(s.began_at, (
        SELECT n.held_at FROM held_notes AS n WHERE n.session_id = s.id LIMIT 1
    ))
    FROM sessions AS s JOIN players AS p ON p.id = s.player_id
    JOIN instruments AS i ON i.id = s.instrument_id
    WHERE p.name = ? AND i.name = ? ORDER BY s.id DESC"""

# the inner question is answered from the index alone, however long a sitting was
_NOTES = """SELECT session_id, held_at, midi, kind, cents, level_db, drift_cents_per_s, duration_s,
    reference, blind, previous_midi FROM held_notes WHERE event IN (
        SELECT event FROM held_notes WHERE session_id = ? ORDER BY event DESC LIMIT ?
    ) AND (held_at IS NULL OR held_at >= ? AND held_at < ?)"""


def notes_lately_played(
    database: Database,
    player: str,
    instrument: str,
    *,
    since: datetime | None = None,
    until: datetime | None = None,
    latest_days: int = LATEST_DAYS,
    most: int = MOST_NOTES,
) -> list[PlayedNote]:
    """Return what a player has lately played on an instrument.

    Parameters
    ----------
    database
        The file that the practice record is kept in.
    player, instrument
        Names.
    since
        Nothing before this moment, such as the last change to the instrument.
    until
        Nothing from this moment on.
    latest_days
        How far back from the last sitting that counts.
    most
        The latest so many notes at most.

    Raises
    ------
    StoreError
        If the file cannot be read.

    Notes
    -----
    Sittings without a date count only where no sitting has one.
    """
    sittings = _until(_sittings(database, player, instrument), until)
    notes: list[PlayedNote] = []
    for sitting, day in _lately(sittings, latest_days, since).items():
        if len(notes) >= most:
            break
        bounds = (utc_text(since) or "", utc_text(until) or _AFTER_ALL)
        found = database.read(_NOTES, [sitting, most - len(notes), *bounds])
        notes += [_played(values, day) for values in found]
    return notes


def _sittings(
    database: Database, player: str, instrument: str
) -> list[tuple[int, datetime | None]]:
    found = database.read(_SITTINGS, (player, instrument))
    return [(number, moment_of(text) if text else None) for number, text in found]


def _until(
    sittings: Sequence[tuple[int, datetime | None]], until: datetime | None
) -> Sequence[tuple[int, datetime | None]]:
    if until is None:
        return sittings
    return [each for each in sittings if each[1] is not None and each[1] < until]


def _lately(
    sittings: Sequence[tuple[int, datetime | None]], latest_days: int, since: datetime | None
) -> dict[int, int | None]:
    """Return the latest sittings with their days as ordinals, the latest first."""
    moments = {number: moment for number, moment in sittings if moment is not None}
    if not moments:
        undated = [number for number, _ in sittings] if since is None else []
        return dict.fromkeys(undated[:_MOST_SITTINGS])
    earliest = max(moments.values()) - timedelta(days=latest_days)
    if since is not None:
        # a sitting may have begun before the moment and gone on after it
        earliest = max(earliest, since.astimezone(UTC) - timedelta(days=1))
    latest = sorted(moments.items(), key=lambda each: each[1], reverse=True)
    days = {number: _day(moment) for number, moment in latest if moment >= earliest}
    return dict(list(days.items())[:_MOST_SITTINGS])


def _day(moment: datetime) -> int:
    return moment.astimezone().toordinal()


def _played(values: Sequence[Any], day: int | None) -> PlayedNote:
    """Return a note; without a date of its own it has that of its sitting."""
    sitting, held_at, *rest = values
    own = date.fromisoformat(held_at[:10]).toordinal() if held_at else day
    return PlayedNote(sitting, own, *rest)
