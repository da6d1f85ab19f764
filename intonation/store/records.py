"""Sittings and takes as the practice record knows them."""

from dataclasses import dataclass
from datetime import datetime


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
