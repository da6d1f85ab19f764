"""Sittings and means as a report wants them: plain notes only, swells left out."""

import math
from dataclasses import dataclass
from datetime import datetime

from intonation.assessment.summary import NoteSummary
from intonation.store.columns import JOINED, moment_of, utc_text
from intonation.store.database import Database

_PLAIN = "n.kind NOT IN ('swell', 'careful-swell')"
"""A swell is meant to leave its pitch."""

_SITTINGS = f"""SELECT s.name, i.name,
        coalesce(s.began_at, (SELECT min(t.began_at) FROM takes AS t WHERE t.session_id = s.id),
            min(n.held_at)),
        count(*), avg(abs(n.cents)), avg(n.cents)
    FROM {JOINED} WHERE {_PLAIN} AND (?1 IS NULL OR p.name = ?1) AND (?2 IS NULL OR i.name = ?2)
    GROUP BY s.id ORDER BY s.id"""
_MEANS = f"""SELECT n.midi, avg(n.cents), sum(n.cents * n.cents), count(*)
    FROM {JOINED} WHERE {_PLAIN} AND (?1 IS NULL OR p.name = ?1) AND (?2 IS NULL OR i.name = ?2)
        AND (?3 IS NULL OR s.name = ?3) AND (?4 IS NULL OR n.take_id = ?4)
    GROUP BY n.midi ORDER BY n.midi"""
_MINUTES = """SELECT coalesce(sum(julianday(t.ended_at) - julianday(t.began_at)), 0) * 1440
    FROM takes AS t JOIN sessions AS s ON s.id = t.session_id
    JOIN players AS p ON p.id = s.player_id JOIN instruments AS i ON i.id = s.instrument_id
    WHERE p.name = ? AND i.name = ? AND t.began_at >= ?"""
_PAIRS = f"""SELECT p.name, i.name, count(DISTINCT s.id), count(n.event),
        min(coalesce(s.began_at, n.held_at)), max(coalesce(s.began_at, n.held_at))
    FROM {JOINED} GROUP BY p.id, i.id ORDER BY count(n.event) DESC, p.name, i.name"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingSummary:
    """One sitting in figures.

    Parameters
    ----------
    session, instrument
        Its name, and what was played.
    began_at
        When it began; None if unknown.
    held_notes
        How many plain notes were held.
    off_cents, mean_cents
        Mean distance from the target whichever way, and mean deviation.
    """

    session: str
    instrument: str
    began_at: datetime | None
    held_notes: int
    off_cents: float
    mean_cents: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PairSummary:
    """One player on one instrument: how much is kept, and when it was played."""

    player: str
    instrument: str
    sittings: int
    held_notes: int
    first_at: datetime | None
    last_at: datetime | None


class Sittings:
    """What a report or a teacher wants to know of the record as a whole.

    Parameters
    ----------
    database
        The file that the practice record is kept in.

    Notes
    -----
    Every method raises a `StoreError` if the file cannot be read. None as a name does not restrict.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def pairs(self) -> tuple[PairSummary, ...]:
        """Return every player with every instrument, who held most notes first."""
        return tuple(
            PairSummary(
                player=player,
                instrument=instrument,
                sittings=sittings,
                held_notes=held_notes,
                first_at=_moment(first_at),
                last_at=_moment(last_at),
            )
            for player, instrument, sittings, held_notes, first_at, last_at in self._database.read(
                _PAIRS
            )
        )

    def of(
        self, *, player: str | None = None, instrument: str | None = None
    ) -> tuple[SittingSummary, ...]:
        """Return every sitting with a plain note, in the order in which they were kept."""
        return tuple(
            SittingSummary(
                session=session,
                instrument=played,
                began_at=_moment(began_at),
                held_notes=held_notes,
                off_cents=off_cents,
                mean_cents=mean_cents,
            )
            for session, played, began_at, held_notes, off_cents, mean_cents in self._database.read(
                _SITTINGS, (player, instrument)
            )
        )

    def means(
        self,
        *,
        player: str | None = None,
        instrument: str | None = None,
        session: str | None = None,
        take: int | None = None,
    ) -> tuple[NoteSummary, ...]:
        """Return every plain note with mean, spread and count, the lowest first.

        Parameters
        ----------
        player, instrument, session, take
            Whose, on what, in which sitting or take.
        """
        found = self._database.read(_MEANS, (player, instrument, session, take))
        return tuple(_summary(*values) for values in found)

    def minutes(self, player: str, instrument: str, *, since: datetime) -> float:
        """Return how many minutes the takes since a moment went on together."""
        found = self._database.read(_MINUTES, (player, instrument, utc_text(since)))
        return float(found[0][0]) if found else 0.0


def _summary(midi: int, mean_cents: float, sum_of_squares: float, count: int) -> NoteSummary:
    variance = 0.0
    if count > 1:
        variance = max(0.0, (sum_of_squares - count * mean_cents**2) / (count - 1))
    return NoteSummary(midi, mean_cents, math.sqrt(variance), count)


def _moment(text: str | None) -> datetime | None:
    return moment_of(text) if text else None
