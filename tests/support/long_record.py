"""A practice record of many years, written in bulk: the invented player with known habits."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from intonation.habits.played import PlayedNote
from intonation.heldnotes.row import HeldNoteRow, Kind
from intonation.store.columns import INSERT, written
from intonation.store.database import Parameter
from intonation.store.details import HeldNoteDetails
from intonation.store.store import Store
from tests.support.habitual_player import FIRST_DAY, Practice, TrueHabits, record_of

PLAYER, INSTRUMENT = "wren", "alto"


def keep_record(
    store: Store, notes: Iterable[PlayedNote], *, last_day: datetime | None = None
) -> None:
    """Keep an invented player's notes, moved in time so that the last day is this one."""
    notes = list(notes)
    latest = max(note.day or FIRST_DAY for note in notes)
    last_day = last_day or datetime.fromordinal(latest).replace(tzinfo=UTC)
    evening = last_day.replace(hour=18, minute=0, second=0, microsecond=0)
    moments = {
        note.sitting: evening - timedelta(days=latest - (note.day or FIRST_DAY)) for note in notes
    }
    for sitting, moment in moments.items():
        store.begin_session(
            f"sitting {sitting}", player=PLAYER, instrument=INSTRUMENT, began_at=moment
        )
    numbers = dict(store.database.read("SELECT name, id FROM sessions ORDER BY id"))
    with store.database.writing() as connection:
        connection.executemany(
            INSERT,
            (
                _written(note, numbers[f"sitting {note.sitting}"], moments[note.sitting], order)
                for order, note in enumerate(notes)
            ),
        )


def _written(note: PlayedNote, session: int, moment: datetime, order: int) -> tuple[Parameter, ...]:
    kind: Kind = note.kind  # type: ignore[assignment]
    row = HeldNoteRow(
        event=0,
        player=PLAYER,
        instrument=INSTRUMENT,
        session="",
        midi=note.midi,
        kind=kind,
        cents=note.cents,
        level_db=note.level_db,
        drift_cents_per_s=note.drift_cents_per_s,
        reference=note.reference,
        blind=note.blind,
        previous_midi=note.previous_midi,
    )
    details = HeldNoteDetails(duration_s=note.duration_s)
    held_at = moment + timedelta(seconds=order % 3600)
    return written(row, details, session_id=session, held_at=held_at)


def long_record(path: Path, *, notes: int = 700_000, years: float = 10.0) -> None:
    """Write a record of one player on one instrument."""
    rng = np.random.default_rng(1)
    sittings = round(250 * years)
    practice = Practice(sittings=sittings, days=round(365 * years), notes=max(1, notes // sittings))
    usual = tuple(rng.normal(2.0, 6.0, 27).tolist())
    with Store(path) as store:
        keep_record(store, record_of(TrueHabits(usual=usual, from_above=4.0), rng, practice))
