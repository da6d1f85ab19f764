"""Joins the habits to the practice record: what was played lately, and what a check says of it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from intonation.diagnosis.attribution import Progress, unwatched
from intonation.diagnosis.diagnosing import diagnose
from intonation.diagnosis.results import NoteDiagnosis
from intonation.habits.finding import habits_of
from intonation.habits.habit import Habits
from intonation.habits.needs import NoteNeed, needs_of
from intonation.habits.played import Played, PlayedNote, played_from
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.instrument import Instrument
from intonation.store.played_notes import PlayedNotes
from intonation.store.store import Store

_OF_A_CHECK = ("careful", "careful-swell")
_MOST_CHECKS = 8


@dataclass(frozen=True, slots=True)
class HabitRecord:
    """What one player's record tells of their habits.

    Parameters
    ----------
    store
        The practice record.
    now
        Returns the present date and time.
    """

    store: Store
    now: Callable[[], datetime]

    def habits(self, player: str, instrument: str) -> Habits:
        """Return a player's habits of the last twelve weeks, on the instrument as it is now.

        Raises
        ------
        StoreError
            If the record cannot be read.
        """
        return habits_of(self.played(player, instrument))

    def played(self, player: str, instrument: str) -> Played:
        """Return the notes that the habits are worked out from."""
        return played_from(self._kept(player, instrument))

    def needs(self, player: str, instrument: Instrument) -> tuple[NoteNeed, ...]:
        """Return the notes that a player should practise today, the one most in need first."""
        played = self.played(player, instrument.name)
        today = self.now().date()
        return needs_of(habits_of(played), played, instrument=instrument, today=today)

    def owners(
        self, player: str, instrument: str, *, progress: Progress = unwatched
    ) -> dict[int, NoteDiagnosis]:
        """Return whose each note's deviation is, from the latest instrument checks.

        Parameters
        ----------
        player, instrument
            Names.
        progress
            Called with the share that is done; an exception from it cancels.

        Returns
        -------
        dict of NoteDiagnosis
            By MIDI number; empty if no check is on file.
        """
        kept = self._kept(player, instrument)
        checks = sorted({note.sitting for note in kept if note.kind in _OF_A_CHECK})
        rows = self._rows(checks[-_MOST_CHECKS:], player, instrument)
        for pair in diagnose(rows, progress=progress):
            return {note.midi: note for note in pair.notes}
        return {}

    def _kept(self, player: str, instrument: str) -> list[PlayedNote]:
        changed = [
            moment
            for trial in self.store.trials.all(instrument=instrument)
            for moment in (trial.made_at, trial.undone_at)
            if moment is not None
        ]
        notes = PlayedNotes(self.store.database)
        return notes.of(player, instrument, since=max(changed, default=None))

    def _rows(self, sittings: list[int], player: str, instrument: str) -> list[HeldNoteRow]:
        names = self.store.database.read(
            f"SELECT name FROM sessions WHERE id IN ({', '.join('?' * len(sittings))})", sittings
        )
        return [
            row
            for (name,) in names
            for row in self.store.held_notes(player=player, instrument=instrument, session=name)
        ]
