"""Joins the habits to the practice record: what was played lately, and what a check says of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from intonation.diagnosis.attribution import Progress, unwatched
from intonation.diagnosis.diagnosing import diagnose
from intonation.diagnosis.results import NoteDiagnosis
from intonation.exercise.library import library
from intonation.habits.ear_needs import ear_needs_of
from intonation.habits.finding import habits_of, usual_notes
from intonation.habits.habit import Habits, UsualNote
from intonation.habits.needs import needs_of
from intonation.habits.played import Played, PlayedNote, played_from
from intonation.habits.practice_plan import Choices, choices_for
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.instrument import Instrument
from intonation.listening.plan import Practised
from intonation.listening.trials import Condition
from intonation.practice.ear_block import known_of
from intonation.practice.ear_choices import EAR_DRILLS
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.played_notes import notes_lately_played
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

    def played(
        self,
        player: str,
        instrument: str,
        *,
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> Played:
        """Return the notes that the habits are worked out from; of them those between moments."""
        return played_from(self._kept(player, instrument, since=since, until=until))

    def usual(
        self,
        player: str,
        instrument: str,
        *,
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> tuple[UsualNote, ...]:
        """Return where every note usually lies, as the habits have it, for reports.

        Where nothing was played since the last work on the instrument, what was played before it
        is told: a report must not say that nobody has played.
        """
        database = self.store.database
        return usual_notes(
            self.played(player, instrument, since=since, until=until)
        ) or usual_notes(
            played_from(notes_lately_played(database, player, instrument, since=since, until=until))
        )

    def today(self, player: str, instrument: Instrument) -> Choices:
        """Return what today's practice can be made of.

        Raises
        ------
        StoreError
            If the record cannot be read.
        """
        played = self.played(player, instrument.name)
        answers = ListeningAnswers(self.store.database)
        ear = known_of(answers.answers(player), answers.tuned(player)).practised
        return todays_choices(played, ear, instrument=instrument, today=self.now().date())

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

    def _kept(
        self,
        player: str,
        instrument: str,
        *,
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> list[PlayedNote]:
        """Return notes of the instrument as it was last, at the end of the time asked for."""
        changed = [
            moment
            for trial in self.store.trials.all(instrument=instrument)
            for moment in (trial.made_at, trial.undone_at)
            if moment is not None and (until is None or moment < until)
        ]
        earliest = max([*changed, *([since] if since else [])], default=None)
        database = self.store.database
        return notes_lately_played(database, player, instrument, since=earliest, until=until)

    def _rows(self, sittings: list[int], player: str, instrument: str) -> list[HeldNoteRow]:
        names = self.store.database.read(
            f"SELECT name FROM sessions WHERE id IN ({', '.join('?' * len(sittings))})", sittings
        )
        return [
            row
            for (name,) in names
            for row in self.store.held_notes(player=player, instrument=instrument, session=name)
        ]


def todays_choices(
    played: Played,
    ear: Mapping[Condition, Practised],
    *,
    instrument: Instrument,
    today: date,
) -> Choices:
    """Return what today's practice can be made of.

    Parameters
    ----------
    played
        What was played lately.
    ear
        What the ear drills have told.
    instrument, today
        The player's instrument, and the day.
    """
    habits = habits_of(played)
    last = habits.last_day
    return choices_for(
        notes=needs_of(habits, played, instrument=instrument, today=today),
        ear=ear_needs_of(EAR_DRILLS, ear, today=today),
        exercises=library(),
        instrument=instrument,
        turn=today.toordinal(),
        days_away=None if last is None else (today - last).days,
    )
