"""Sittings and takes as the practice record knows them."""

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from intonation.assessment.summary import NoteSummary
from intonation.store.columns import moment_of


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRecord:
    """One sitting.

    Parameters
    ----------
    player, instrument, session
        Who played what, and the name of the sitting.
    began_at
        When it began, if that is known.
    held_notes
        How many notes are kept of it.
    """

    player: str
    instrument: str
    session: str
    began_at: datetime | None
    held_notes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeRecord:
    """One take.

    Parameters
    ----------
    number
        Its number, unique in the store.
    session
        The sitting it belongs to.
    began_at, ended_at
        When it began and ended; no end if the program was stopped before.
    a4_hz, temperament, drone_midi
        What it was practised with.
    held_notes
        How many notes are kept of it.
    """

    number: int
    session: str
    began_at: datetime
    ended_at: datetime | None
    a4_hz: float
    temperament: str
    drone_midi: int | None
    held_notes: int


def note_summary(midi: int, mean_cents: float, sum_of_squares: float, count: int) -> NoteSummary:
    """Return a note's mean, spread and count from the sums that SQL can make."""
    variance = 0.0
    if count > 1:
        variance = max(0.0, (sum_of_squares - count * mean_cents**2) / (count - 1))
    return NoteSummary(midi, mean_cents, math.sqrt(variance), count)


def session_record(
    player: str, instrument: str, session: str, began_at: str | None, held_notes: int
) -> SessionRecord:
    """Return a sitting from a row of the database."""
    return SessionRecord(
        player=player,
        instrument=instrument,
        session=session,
        began_at=moment_of(began_at) if began_at else None,
        held_notes=held_notes,
    )


def take_record(values: tuple[Any, ...]) -> TakeRecord:
    """Return a take from a row of the database."""
    number, session, began_at, ended_at, a4_hz, temperament, drone_midi, held_notes = values
    return TakeRecord(
        number=number,
        session=session,
        began_at=moment_of(began_at),
        ended_at=moment_of(ended_at) if ended_at else None,
        a4_hz=a4_hz,
        temperament=temperament,
        drone_midi=drone_midi,
        held_notes=held_notes,
    )
