"""Keeps every scored note and phrase in the practice record before anything else is done."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from intonation.assessment.advising import advise
from intonation.assessment.melody import scored_melody_notes
from intonation.engine.messages import PhraseScored
from intonation.heldnotes.row import Kind
from intonation.practice.events import NoteScored
from intonation.practice.rows import held_note_row
from intonation.practice.settings import PracticeSettings

if TYPE_CHECKING:
    from intonation.store.store import Store


@dataclass(slots=True)
class _Take:
    """A take, and its number in the store once the store has it."""

    settings: PracticeSettings
    began_at: datetime
    number: int | None = None
    melody_notes: int = 0


@dataclass(frozen=True, slots=True)
class _Unwritten:
    """A note that is not in the store yet."""

    take: _Take
    note: NoteScored
    kind: Kind
    held_at: datetime


class PracticeRecorder:
    """Writes one sitting's takes and notes to the store.

    A note that the store refuses is kept in memory and written before the next one, so that nothing
    is lost when a disk is full for a while.

    Parameters
    ----------
    store
        Where notes are kept.
    session
        Identifier of the sitting.
    now
        Returns the present date and time.
    """

    def __init__(self, store: Store, *, session: str, now: Callable[[], datetime]) -> None:
        self._store = store
        self._session = session
        self._now = now
        self._began_at: datetime | None = None
        self._take: _Take | None = None
        self._unwritten: deque[_Unwritten] = deque()

    @property
    def unwritten(self) -> int:
        """How many notes the store has refused so far."""
        return len(self._unwritten)

    def begin_take(self, settings: PracticeSettings) -> None:
        """Note that a take begins.

        Raises
        ------
        StoreError
            If the store cannot be written; the take's notes are tried all the same.
        """
        self._take = _Take(settings, self._now())
        self._began_at = self._began_at or self._take.began_at
        self._write_take(self._take)

    def keep(self, scored: NoteScored | PhraseScored) -> None:
        """Keep a note or a phrase, and all that was refused before; on return it is on disk.

        Raises
        ------
        StoreError
            If the store cannot be written; the notes are tried again with the next ones.
        """
        take, held_at = self._take, self._now()
        if take is None:
            return
        if isinstance(scored, NoteScored):
            self._unwritten.append(_Unwritten(take, scored, "matched", held_at))
        else:
            notes = self._notes_of(take, scored)
            self._unwritten += [_Unwritten(take, note, "melody", held_at) for note in notes]
        self.write_rest()

    def write_rest(self) -> None:
        """Write whatever the store has refused so far.

        Raises
        ------
        StoreError
            If the store cannot be written.
        """
        while self._unwritten:
            self._write_note(self._unwritten[0])
            self._unwritten.popleft()

    def end_take(self) -> None:
        """Note that the take has ended.

        Raises
        ------
        StoreError
            If the store cannot be written.
        """
        take, self._take = self._take, None
        if take is not None and take.number is not None:
            self._store.end_take(take.number, ended_at=self._now())

    def _write_take(self, take: _Take) -> int:
        if take.number is None:
            settings = take.settings
            self._store.begin_session(
                self._session,
                player=settings.player,
                instrument=settings.instrument,
                began_at=self._began_at or take.began_at,
            )
            take.number = self._store.begin_take(
                self._session, settings=settings, began_at=take.began_at
            )
        return take.number

    def _notes_of(self, take: _Take, phrase: PhraseScored) -> list[NoteScored]:
        """Return the notes of a phrase one by one, numbered through the take."""
        instrument = take.settings.recorder
        notes = [
            NoteScored(number, scored, advise(scored, instrument=instrument))
            for number, scored in enumerate(
                scored_melody_notes(phrase.score), start=take.melody_notes + 1
            )
        ]
        take.melody_notes += len(notes)
        return notes

    def _write_note(self, unwritten: _Unwritten) -> None:
        from intonation.store.details import details_of

        take, note = unwritten.take, unwritten.note
        row = held_note_row(
            note,
            settings=take.settings,
            instrument=take.settings.recorder,
            session=self._session,
            minutes_before=self._minutes_before(take),
        )
        number = self._write_take(take)
        self._store.add_held_note(
            replace(row, kind=unwritten.kind),
            details=details_of(note),
            take=number,
            held_at=unwritten.held_at,
            trace=note.scored.held.trace,
        )

    def _minutes_before(self, take: _Take) -> float:
        """Return the minutes from the sitting's first take to this one."""
        began_at = self._began_at or take.began_at
        return (take.began_at - began_at).total_seconds() / 60.0
