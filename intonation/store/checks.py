"""Instrument checks in the practice record: their steps, what became of each, and their notes."""

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from intonation.diagnosis.check import Check, CheckStep, Form, Outcome, resumed
from intonation.heldnotes.row import HeldNoteRow
from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz
from intonation.practice.checking import CheckSettings
from intonation.store.columns import (
    INSERT,
    JOINED,
    SELECTED,
    Choice,
    moment_of,
    row_of,
    utc_text,
    written,
)
from intonation.store.database import Database
from intonation.store.details import HeldNoteDetails
from intonation.store.names import know_instrument, name_id, session_id

_SELECTED_CHECKS = """SELECT c.id, p.name, i.name, c.size, c.form, c.a4_hz, c.began_at, c.ended_at,
    (SELECT count(*) FROM check_steps AS s WHERE s.check_id = c.id),
    (SELECT count(*) FROM check_steps AS s WHERE s.check_id = c.id AND s.outcome IS NOT NULL)
    FROM checks AS c JOIN players AS p ON p.id = c.player_id
    JOIN instruments AS i ON i.id = c.instrument_id
    WHERE (?1 IS NULL OR p.name = ?1) AND (?2 IS NULL OR i.name = ?2) ORDER BY c.id"""

_SELECTED_STEPS = """SELECT pass_number, pass, midi, place, outcome FROM check_steps
    WHERE check_id = ?"""
_WITHOUT_REFERENCE = "n.kind IN ('natural', 'careful', 'swell', 'careful-swell')"


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckRecord:
    """One check.

    Parameters
    ----------
    number
        Its number, unique in the record.
    player, instrument, size, form, a4_hz
        Whose, on what, how thorough, and at which concert pitch.
    began_at, ended_at
        When it began and ended; no end while it can be gone on with.
    steps, settled
        How many steps it has, and how many of them are played or left out.
    """

    number: int
    player: str
    instrument: str
    size: str
    form: Form
    a4_hz: float
    began_at: datetime
    ended_at: datetime | None
    steps: int
    settled: int


@dataclass(frozen=True, slots=True)
class HeldToReference:
    """A note against a reference: the note, cents from it, and its own from equal temperament."""

    midi: int
    cents: float
    target_cents: float


class Checks:
    """The checks of a practice record.

    Parameters
    ----------
    database
        The record's file.

    Notes
    -----
    Every method raises a `StoreError` if the file cannot be read or written.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def begin(self, settings: CheckSettings, check: Check, *, began_at: datetime) -> int:
        """Keep a check with all its steps, and return its number."""
        with self._database.writing() as connection:
            names = (
                name_id(connection, "players", settings.player),
                know_instrument(
                    connection,
                    settings.instrument,
                    size=settings.size,
                    fingering_system=settings.fingering_system,
                ),
            )
            inserted = connection.execute(
                "INSERT INTO checks (player_id, instrument_id, size, form, a4_hz, began_at)"
                " VALUES (?, ?, ?, ?, ?, ?)",
                (*names, settings.size, settings.form, settings.a4_hz, utc_text(began_at)),
            )
            number = inserted.lastrowid or 0
            _add_steps(connection, number, check.ahead)
        return number

    def extend(self, number: int, steps: Iterable[CheckStep]) -> None:
        """Keep that more is asked for in a check than at its beginning."""
        with self._database.writing() as connection:
            _add_steps(connection, number, steps)

    def steps(self, number: int) -> tuple[CheckStep, ...]:
        """Return every step of a check, in order."""
        found = self._database.read(f"{_SELECTED_STEPS} ORDER BY place", (number,))
        return tuple(CheckStep(*values[:4]) for values in found)

    def notes(self, number: int) -> tuple[HeldNoteRow, ...]:
        """Return the notes of a check, in order."""
        found = self._database.read(
            f"SELECT {SELECTED} FROM {JOINED} JOIN check_notes AS c ON c.event = n.event"
            " WHERE c.check_id = ? ORDER BY n.event",
            (number,),
        )
        return tuple(map(row_of, found))

    def settle(
        self,
        number: int,
        step: CheckStep,
        outcome: Outcome,
        notes: Iterable[tuple[HeldNoteRow, HeldNoteDetails]] = (),
        *,
        at: datetime,
    ) -> None:
        """Keep what became of a step, with its notes: all of it or nothing, on disk on return."""
        with self._database.writing() as connection:
            for row, details in notes:
                event = _added(connection, row, details, at)
                connection.execute(
                    "INSERT INTO check_notes VALUES (?, ?, ?)", (event, number, step.place)
                )
            connection.execute(
                "UPDATE check_steps SET outcome = ? WHERE check_id = ? AND place = ?",
                (outcome, number, step.place),
            )

    def end(self, number: int, *, ended_at: datetime) -> None:
        """Keep that a check is over and will not be gone on with."""
        with self._database.writing() as connection:
            connection.execute(
                "UPDATE checks SET ended_at = ? WHERE id = ?", (utc_text(ended_at), number)
            )

    def all(
        self, *, player: str | None = None, instrument: str | None = None
    ) -> tuple[CheckRecord, ...]:
        """Return every check, the oldest first; None does not restrict."""
        found = self._database.read(_SELECTED_CHECKS, (player, instrument))
        return tuple(map(_record, found))

    def check(self, number: int) -> Check:
        """Return a check as far as it was played."""
        found = self._database.read(f"{_SELECTED_STEPS} ORDER BY place", (number,))
        steps = [CheckStep(*values[:4]) for values in found]
        return resumed(steps, {v[3]: v[4] for v in found if v[4] is not None})

    def notes_without_reference(
        self, *, player: str | None = None, instrument: str | None = None
    ) -> tuple[HeldNoteRow, ...]:
        """Return every note that was held without a reference, in order; None for everybody's."""
        condition, parameters = Choice(player=player, instrument=instrument).condition()
        found = self._database.read(
            f"SELECT {SELECTED} FROM {JOINED} WHERE {_WITHOUT_REFERENCE} AND {condition}"
            " ORDER BY n.event",
            parameters,
        )
        return tuple(map(row_of, found))

    def held_to_reference(
        self, player: str, instrument: str, *, last: int = 60
    ) -> tuple[HeldToReference, ...]:
        """Return the latest notes that a pair has held against a reference."""
        found = self._database.read(
            "SELECT n.midi, n.cents, n.target_hz, t.a4_hz"
            f" FROM {JOINED} JOIN takes AS t ON t.id = n.take_id"
            " WHERE n.kind = 'matched' AND n.target_hz IS NOT NULL AND p.name = ? AND i.name = ?"
            " ORDER BY n.event DESC LIMIT ?",
            (player, instrument, last),
        )
        return tuple(
            HeldToReference(
                midi,
                cents,
                cents_between(target_hz, target_hz=equal_tempered_hz(midi, a4_hz=a4_hz)),
            )
            for midi, cents, target_hz, a4_hz in found
        )


def _add_steps(connection: sqlite3.Connection, number: int, steps: Iterable[CheckStep]) -> None:
    connection.executemany(
        "INSERT INTO check_steps (check_id, place, pass_number, pass, midi) VALUES (?, ?, ?, ?, ?)",
        [(number, s.place, s.pass_number, s.pass_name, s.midi) for s in steps],
    )


def _added(
    connection: sqlite3.Connection, row: HeldNoteRow, details: HeldNoteDetails, at: datetime
) -> int:
    sitting = session_id(connection, row.player, row.instrument, row.session)
    connection.execute(
        "UPDATE sessions SET began_at = coalesce(began_at, ?) WHERE id = ?", (utc_text(at), sitting)
    )
    values = written(row, details, session_id=sitting, held_at=at)
    return connection.execute(INSERT, values).lastrowid or 0


def _record(values: Sequence[Any]) -> CheckRecord:
    number, player, instrument, size, form, a4_hz, began_at, ended_at, steps, settled = values
    return CheckRecord(
        number=number,
        player=player,
        instrument=instrument,
        size=size,
        form=form,
        a4_hz=a4_hz,
        began_at=moment_of(began_at),
        ended_at=moment_of(ended_at) if ended_at else None,
        steps=steps,
        settled=settled,
    )
