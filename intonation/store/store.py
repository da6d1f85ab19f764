"""The practice record: sessions, takes and held notes, each on disk before the call returns."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from intonation.assessment.summary import NoteSummary
from intonation.errors import StoreError
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.own_instrument import size_that_is_named
from intonation.language import say
from intonation.practice.settings import PracticeSettings
from intonation.store.columns import (
    IN_ORDER,
    INSERT,
    JOINED,
    SELECTED,
    Choice,
    row_of,
    utc_text,
    written,
)
from intonation.store.database import Database
from intonation.store.details import NO_DETAILS, HeldNoteDetails
from intonation.store.names import know_instrument, session_id
from intonation.store.own_instruments import OwnInstruments
from intonation.store.records import (
    SessionRecord,
    TakeRecord,
    note_summary,
    session_record,
    take_record,
)
from intonation.store.traces import INSERT_TRACE, Traces, to_write
from intonation.store.trials import Trials
from intonation.tracking.trace import PitchTrace

_PAGE_ROWS = 1000


class Store:
    """Everything that is remembered of a player's practice.

    Parameters
    ----------
    path
        The file. Nothing is created before something is kept. None keeps everything in memory.

    Notes
    -----
    Every method raises a `StoreError` if the file cannot be read or written. Any thread may call.
    """

    def __init__(self, path: Path | None) -> None:
        self.database = Database(path)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    @property
    def path(self) -> Path | None:
        """The file, or None in memory."""
        return self.database.path

    @property
    def trials(self) -> Trials:
        """The trials on instruments."""
        return Trials(self.database)

    @property
    def instruments(self) -> OwnInstruments:
        """The instruments by their own names."""
        return OwnInstruments(self.database)

    @property
    def traces(self) -> Traces:
        """The takes as they are looked at afterwards."""
        return Traces(self.database)

    def close(self) -> None:
        """Close the file; whatever is called next opens it again."""
        self.database.close()

    def begin_session(
        self, session: str, *, player: str, instrument: str, began_at: datetime
    ) -> None:
        """Keep that a sitting has begun; one that is known already keeps its first date."""
        with self.database.writing() as connection:
            number = session_id(connection, player, instrument, session)
            connection.execute(
                "UPDATE sessions SET began_at = coalesce(began_at, ?) WHERE id = ?",
                (utc_text(began_at), number),
            )

    def begin_take(self, session: str, *, settings: PracticeSettings, began_at: datetime) -> int:
        """Keep that a take has begun and return its number, unique in the store."""
        with self.database.writing() as connection:
            know_instrument(
                connection,
                settings.instrument,
                size=settings.size or size_that_is_named(settings.instrument),
                fingering_system=settings.fingering_system,
            )
            sitting = session_id(connection, settings.player, settings.instrument, session)
            inserted = connection.execute(
                "INSERT INTO takes (session_id, began_at, a4_hz, temperament, drone_midi,"
                " drone_fifth, drone_octave, voice) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                (
                    sitting,
                    utc_text(began_at),
                    settings.a4_hz,
                    settings.tuning_name,
                    settings.drone_midi,
                    settings.drone_fifth,
                    settings.drone_octave,
                    settings.voice,
                ),
            )
            return inserted.lastrowid or 0

    def end_take(self, take: int, *, ended_at: datetime) -> None:
        """Keep that a take has ended."""
        with self.database.writing() as connection:
            connection.execute(
                "UPDATE takes SET ended_at = ? WHERE id = ?", (utc_text(ended_at), take)
            )

    def add_held_note(
        self,
        row: HeldNoteRow,
        *,
        details: HeldNoteDetails = NO_DETAILS,
        take: int | None = None,
        held_at: datetime | None = None,
        trace: PitchTrace | None = None,
    ) -> int:
        """Keep a held note; when this returns it is on the disk.

        Parameters
        ----------
        row
            The note; its event does not matter, since the store numbers the notes itself.
        details
            What is known beyond the row.
        take
            Number of the take it belongs to, as `begin_take` has returned it.
        held_at
            When it ended.
        trace
            Its pitch and level over time.

        Returns
        -------
        int
            Its event number, unique in the store.
        """
        with self.database.writing() as connection:
            sitting = session_id(connection, row.player, row.instrument, row.session)
            values = written(row, details, session_id=sitting, take_id=take, held_at=held_at)
            event = connection.execute(INSERT, values).lastrowid or 0
            if trace is not None:
                connection.execute(INSERT_TRACE, to_write(event, trace))
            return event

    def add_held_notes(self, rows: Iterable[HeldNoteRow]) -> int:
        """Keep many held notes, all or none of them, and return how many they were."""
        count = 0
        sessions: dict[tuple[str, str, str], int] = {}
        with self.database.writing() as connection:
            for row in rows:
                names = (row.player, row.instrument, row.session)
                if names not in sessions:
                    sessions[names] = session_id(connection, *names)
                values = written(row, NO_DETAILS, session_id=sessions[names])
                connection.execute(INSERT, values)
                count += 1
        return count

    def held_notes(
        self,
        *,
        player: str | None = None,
        instrument: str | None = None,
        session: str | None = None,
        since: datetime | None = None,
        last: int | None = None,
    ) -> Iterator[HeldNoteRow]:
        """Yield held notes in the order in which they were kept.

        Parameters
        ----------
        player, instrument, session
            Names; None for all.
        since
            Only notes held at this moment or later; those without a date are left out.
        last
            Only so many, the latest ones.

        Notes
        -----
        Read in pages, so that a record of any length takes little memory and a note that is kept
        meanwhile does not have to wait.
        """
        choice = Choice(player=player, instrument=instrument, session=session, since=since)
        after = 0 if last is None else self._event_before_last(choice, last)
        while page := self._page(choice, after=after):
            yield from page
            after = page[-1].event

    def note_summaries(
        self,
        *,
        player: str | None = None,
        instrument: str | None = None,
        session: str | None = None,
        since: datetime | None = None,
    ) -> tuple[NoteSummary, ...]:
        """Return every note with mean, spread and count, lowest first; see `held_notes`."""
        choice = Choice(player=player, instrument=instrument, session=session, since=since)
        condition, parameters = choice.condition()
        found = self.database.read(
            "SELECT n.midi, avg(n.cents), sum(n.cents * n.cents), count(*)"
            f" FROM {JOINED} WHERE {condition} GROUP BY n.midi ORDER BY n.midi",
            parameters,
        )
        return tuple(note_summary(*values) for values in found)

    def sessions(
        self, *, player: str | None = None, instrument: str | None = None
    ) -> tuple[SessionRecord, ...]:
        """Return every sitting in the order in which they were first kept."""
        condition, parameters = Choice(player=player, instrument=instrument).condition()
        found = self.database.read(
            "SELECT p.name, i.name, s.name, s.began_at,"
            " (SELECT count(*) FROM held_notes AS n WHERE n.session_id = s.id)"
            " FROM sessions AS s JOIN players AS p ON p.id = s.player_id"
            f" JOIN instruments AS i ON i.id = s.instrument_id WHERE {condition} ORDER BY s.id",
            parameters,
        )
        return tuple(session_record(*values) for values in found)

    def takes(self, *, session: str | None = None) -> tuple[TakeRecord, ...]:
        """Return every take, the oldest first."""
        condition, parameters = Choice(session=session).condition()
        found = self.database.read(
            "SELECT t.id, s.name, t.began_at, t.ended_at, t.a4_hz, t.temperament, t.drone_midi,"
            " (SELECT count(*) FROM held_notes AS n WHERE n.take_id = t.id)"
            f" FROM takes AS t JOIN sessions AS s ON s.id = t.session_id WHERE {condition}"
            " ORDER BY t.id",
            parameters,
        )
        return tuple(take_record(values) for values in found)

    def check(self) -> None:
        """Read the whole file through and raise a `StoreError` if any of it is damaged."""
        found = self.database.read("PRAGMA integrity_check(1)")
        if found and found[0][0] != "ok":
            raise StoreError(
                say(
                    "{file_name} is damaged ({found}).",
                    file_name=self.database.file_name,
                    found=found[0][0],
                ),
                say(
                    "Copy it to another place; much of it can often be saved with "
                    "`sqlite3 FILE .recover`."
                ),
            )

    def _page(self, choice: Choice, *, after: int) -> list[HeldNoteRow]:
        condition, parameters = choice.condition()
        tables = IN_ORDER if choice.session is None and choice.since is None else JOINED
        found = self.database.read(
            f"SELECT {SELECTED} FROM {tables} WHERE n.event > ? AND {condition}"
            f" ORDER BY n.event LIMIT {_PAGE_ROWS}",
            [after, *parameters],
        )
        return [row_of(values) for values in found]

    def _event_before_last(self, choice: Choice, last: int) -> int:
        condition, parameters = choice.condition()
        found = self.database.read(
            f"SELECT n.event FROM {JOINED} WHERE {condition}"
            " ORDER BY n.event DESC LIMIT 1 OFFSET ?",
            [*parameters, max(0, last)],
        )
        return int(found[0][0]) if found else 0
