"""Traces of held notes in the practice record: how they are packed, and a take seen again."""

import sys
import zlib
from array import array
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from intonation.heldnotes.traced_note import TracedNote
from intonation.store.columns import moment_of
from intonation.store.database import Database, Parameter
from intonation.tracking.trace import CENTS_STEP, LEVEL_STEP_DB, PitchTrace

INSERT_TRACE = "INSERT INTO traces (event, step_s, points) VALUES (?, ?, ?)"
"""Keeps the trace of a held note."""

UNKNOWN_POINT = -32768
"""Stands for a point that is not known."""

_LARGEST = 32767
_TAKES = """SELECT t.id, p.name, i.name, s.name, t.began_at, t.a4_hz, t.temperament, t.drone_midi,
        (SELECT count(*) FROM held_notes AS n WHERE n.take_id = t.id) AS notes
    FROM takes AS t JOIN sessions AS s ON s.id = t.session_id
    JOIN players AS p ON p.id = s.player_id JOIN instruments AS i ON i.id = s.instrument_id
    WHERE (?1 IS NULL OR p.name = ?1) AND (?2 IS NULL OR i.name = ?2)
        AND (?3 IS NULL OR s.name = ?3) AND notes > 0
    ORDER BY t.began_at DESC, t.id DESC LIMIT ?4"""
_NOTES = """SELECT coalesce(n.number, n."order", 0), n.midi, n.cents, n.target_hz, n.duration_s,
        n.sd_cents, n.drift_cents_per_s, n.level_db, t.step_s, t.points
    FROM held_notes AS n LEFT JOIN traces AS t ON t.event = n.event
    WHERE n.take_id = ? ORDER BY n.event"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenTake:
    """A take that notes are kept of.

    Parameters
    ----------
    number
        Its number, unique in the store.
    player, instrument, session
        Who played what, and the name of the sitting.
    began_at
        When it began.
    a4_hz, temperament, drone_midi
        What it was practised with.
    held_notes
        How many notes are kept of it.
    """

    number: int
    player: str
    instrument: str
    session: str
    began_at: datetime
    a4_hz: float
    temperament: str
    drone_midi: int | None
    held_notes: int


class Traces:
    """Takes as they are looked at afterwards.

    Parameters
    ----------
    database
        The file that the practice record is kept in.

    Notes
    -----
    Every method raises a `StoreError` if the file cannot be read.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def takes(
        self,
        *,
        player: str | None = None,
        instrument: str | None = None,
        session: str | None = None,
        last: int = 100,
    ) -> tuple[SeenTake, ...]:
        """Return takes with notes, the latest first, at most so many; None does not restrict."""
        found = self._database.read(_TAKES, (player, instrument, session, last))
        return tuple(_seen_take(values) for values in found)

    def notes(self, take: int) -> tuple[TracedNote, ...]:
        """Return the notes of a take in the order in which they were held."""
        return tuple(_traced(*values) for values in self._database.read(_NOTES, (take,)))


def packed(trace: PitchTrace) -> tuple[float, bytes]:
    """Return the step and the points of a trace as the record has them.

    Points are 16-bit little-endian integers, compressed by zlib: every point's cents in steps of
    0.05, then every point's level in steps of 0.1 dB; -32768 stands for unknown.
    """
    points = array("h", [*_whole(trace.cents, CENTS_STEP), *_whole(trace.level_db, LEVEL_STEP_DB)])
    if sys.byteorder == "big":
        points.byteswap()
    return trace.step_s, zlib.compress(points.tobytes(), 9)


def unpacked(step_s: float, content: bytes) -> PitchTrace | None:
    """Return the trace of what `packed` has returned; None for anything else."""
    points = points_in(content)
    if points is None:
        return None
    cents, level_db = points
    return PitchTrace(step_s, _numbers(cents, CENTS_STEP), _numbers(level_db, LEVEL_STEP_DB))


def points_in(content: bytes) -> "tuple[array[int], array[int]] | None":
    """Return cents and levels as whole numbers of their steps; None for anything damaged."""
    points = array("h")
    try:
        points.frombytes(zlib.decompress(content))
    except (zlib.error, ValueError):
        return None
    if sys.byteorder == "big":
        points.byteswap()
    half = len(points) // 2
    return points[:half], points[half:]


def _whole(values: tuple[float | None, ...], step: float) -> list[int]:
    return [
        UNKNOWN_POINT if value is None else min(max(round(value / step), -_LARGEST), _LARGEST)
        for value in values
    ]


def _numbers(points: "array[int]", step: float) -> tuple[float | None, ...]:
    return tuple(None if point == UNKNOWN_POINT else round(point * step, 2) for point in points)


def _seen_take(values: tuple[Any, ...]) -> SeenTake:
    number, player, instrument, session, began_at, a4_hz, temperament, drone_midi, notes = values
    return SeenTake(
        number=number,
        player=player,
        instrument=instrument,
        session=session,
        began_at=moment_of(began_at),
        a4_hz=a4_hz,
        temperament=temperament,
        drone_midi=drone_midi,
        held_notes=notes,
    )


def _traced(
    number: int, midi: int, cents: float, target_hz: float | None, *rest: Any
) -> TracedNote:
    duration_s, sd_cents, drift_cents_per_s, level_db, step_s, points = rest
    return TracedNote(
        number=number,
        midi=midi,
        cents=cents,
        target_hz=target_hz,
        duration_s=duration_s,
        sd_cents=sd_cents,
        drift_cents_per_s=drift_cents_per_s,
        level_db=level_db,
        trace=None if points is None else unpacked(step_s, points),
    )


def to_write(event: int, trace: PitchTrace) -> tuple[Parameter, ...]:
    """Return the parameters of `INSERT_TRACE`."""
    return (event, *packed(trace))
