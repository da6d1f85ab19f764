"""Takes in what was kept elsewhere, and leaves out what is there already.

What a row says decides whether it is there: its whole content, and how often it is there. Numbers
of takes and notes are the other record's own, so they are given anew here.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import fields
from sqlite3 import Connection
from typing import Any

from intonation.heldnotes.row import HeldNoteRow
from intonation.store.database import Database
from intonation.store.details import HeldNoteDetails
from intonation.store.merged import Merged, Record, content_of, insert, pair_of, quoted
from intonation.store.merging_names import MergingNames
from intonation.store.names import know_instrument, session_id
from intonation.store.traces import INSERT_TRACE, to_write
from intonation.tracking.trace import PitchTrace

NOTE = tuple(
    f.name
    for f in fields(HeldNoteRow)
    if f.name not in ("event", "player", "instrument", "session")
)
"""Columns of a held note that say what was played; they make its content."""

DETAILS = tuple(f.name for f in fields(HeldNoteDetails))

_TAKE = ("a4_hz", "temperament", "drone_midi", "drone_fifth", "drone_octave", "voice")


class Merging:
    """One import into a practice record: all of it, or none.

    Parameters
    ----------
    connection
        The record, in the middle of a transaction.
    """

    def __init__(self, connection: Connection) -> None:
        self.merged = Merged()
        self.names = MergingNames(connection)
        self.connection = self._to = connection
        self._sessions: dict[tuple[str, str, str], int] = {}
        self._notes: dict[int, dict[bytes, list[tuple[int, bool]]]] = {}
        self._takes: dict[int, int] = {}
        self._events: dict[int, int] = {}
        self._checks: dict[int, int] = {}

    def session(self, player: str, record: Record) -> None:
        """Take in a sitting; one that is known already keeps its date."""
        known = self._session(player, record)
        self._to.execute(
            "UPDATE sessions SET began_at = coalesce(began_at, ?) WHERE id = ?",
            (record.get("began_at"), known),
        )

    def take(self, player: str, record: Record) -> None:
        """Take in a take; one of the same sitting that began at the same moment is the same."""
        session = self._session(player, record)
        began_at, ended_at = record["began_at"], record.get("ended_at")
        found = self._to.execute(
            "SELECT id FROM takes WHERE session_id = ? AND began_at = ?", (session, began_at)
        ).fetchone()
        if found:
            number = int(found[0])
            self._to.execute(
                "UPDATE takes SET ended_at = coalesce(ended_at, ?) WHERE id = ?", (ended_at, number)
            )
        else:
            values = (session, began_at, ended_at, *map(record.get, _TAKE))
            number = insert(
                self._to, "takes", ("session_id", "began_at", "ended_at", *_TAKE), values
            )
        self.merged.count("takes", new=not found)
        self._takes[record["take"]] = number

    def held_note(self, player: str, record: Record) -> None:
        """Take in a held note, or what is not known yet of one that is there."""
        session = self._session(player, record)
        content = content_of([record.get(name) for name in NOTE])
        there = self._notes_of(session).get(content)
        event, has_date = there.pop(0) if there else (None, False)
        beyond = (
            self._takes.get(record.get("take", -1)),
            record.get("held_at"),
            *map(record.get, DETAILS),
        )
        if event is None:
            columns = ("session_id", "take_id", "held_at", *DETAILS, *NOTE)
            values = (session, *beyond, *(record.get(name) for name in NOTE))
            event = insert(self._to, "held_notes", columns, values)
            self.merged.count("held-notes", new=True)
        else:
            self.merged.count("held-notes", new=False)
            if not has_date and record.get("held_at"):
                self._complete(event, beyond)
        self._events[record["event"]] = event

    def lacks_trace(self, event: int) -> bool:
        """Return whether a held note of this import has no trace here yet."""
        sought = (self._events[event],)
        return not self._to.execute("SELECT 1 FROM traces WHERE event = ?", sought).fetchone()

    def trace(self, event: int, trace: PitchTrace) -> None:
        """Take in the trace of a held note of this import that lacks one."""
        self._to.execute(INSERT_TRACE, to_write(self._events[event], trace))
        self.merged.count("traces", new=True)

    def check(self, player: str, record: Record) -> None:
        """Take in an instrument check; one that began at the same moment is the same."""
        name = self.names.settle("checks", player, record["instrument"], record["began_at"])
        know_instrument(self._to, name, size=record["size"])
        pair = pair_of(self._to, player, name)
        found = self._to.execute(
            "SELECT id FROM checks WHERE player_id = ? AND instrument_id = ? AND began_at = ?",
            (*pair, record["began_at"]),
        ).fetchone()
        names = ("size", "form", "a4_hz", "began_at", "ended_at")
        if found:
            number = int(found[0])
            self._to.execute(
                "UPDATE checks SET ended_at = coalesce(ended_at, ?) WHERE id = ?",
                (record.get("ended_at"), number),
            )
        else:
            columns = ("player_id", "instrument_id", *names)
            number = insert(self._to, "checks", columns, (*pair, *map(record.get, names)))
        self.merged.count("checks", new=not found)
        self._checks[record["check"]] = number

    def check_step(self, record: Record) -> None:
        """Take in a step of a check, or what became of it."""
        names = ("place", "pass_number", "pass", "midi", "outcome")
        self._to.execute(
            "INSERT INTO check_steps (check_id, place, pass_number, pass, midi, outcome)"
            " VALUES (?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (check_id, place)"
            " DO UPDATE SET outcome = coalesce(outcome, excluded.outcome)",
            (self._checks[record["check"]], *map(record.get, names)),
        )

    def check_note(self, record: Record) -> None:
        """Take in which step of a check a held note belongs to."""
        self._to.execute(
            "INSERT INTO check_notes (event, check_id, place) VALUES (?, ?, ?)"
            " ON CONFLICT DO NOTHING",
            (
                self._events[record["event"]],
                self._checks[record["check"]],
                record["place"],
            ),
        )

    def _session(self, player: str, record: Record) -> int:
        names = (player, record["instrument"], record["session"])
        if names not in self._sessions:
            here = self.names.settle("sessions", *names)
            before = self._to.total_changes
            self._sessions[names] = session_id(self._to, player, here, record["session"])
            if self._to.total_changes > before:
                self.merged.count("sessions", new=True)
        return self._sessions[names]

    def _notes_of(self, session: int) -> dict[bytes, list[tuple[int, bool]]]:
        """Return the notes of a sitting before this import, by their content."""
        if session not in self._notes:
            there: dict[bytes, list[tuple[int, bool]]] = defaultdict(list)
            for event, held_at, *values in self._to.execute(
                f"SELECT event, held_at, {', '.join(quoted(NOTE))} FROM held_notes"
                " WHERE session_id = ? ORDER BY event",
                (session,),
            ):
                there[content_of(values)].append((event, held_at is not None))
            self._notes[session] = dict(there)
        return self._notes[session]

    def _complete(self, event: int, beyond: Sequence[Any]) -> None:
        columns = ("take_id", "held_at", *DETAILS)
        setting = ", ".join(f"{name} = coalesce({name}, ?)" for name in columns)
        self._to.execute(f"UPDATE held_notes SET {setting} WHERE event = ?", (*beyond, event))


@contextmanager
def merging_into(database: Database) -> Iterator[Merging]:
    """Yield an import; what it takes in is kept as a whole or not at all.

    Raises
    ------
    StoreError
        If the file cannot be read or written.
    """
    with database.writing() as connection:
        merging = Merging(connection)
        yield merging
        merging.names.finish()
