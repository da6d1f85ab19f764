"""Joins instrument checks to the practice record: begins them, goes on with them, judges them."""

from collections import defaultdict
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

import numpy as np

from intonation.diagnosis.attribution import Progress
from intonation.diagnosis.check import SITTINGS, Check, check_of, measure_again
from intonation.diagnosis.comparison import NoteChange, compare
from intonation.diagnosis.diagnosing import diagnose
from intonation.diagnosis.results import Experiment, PairDiagnosis
from intonation.engine.guided_check import GuidedCheck, Sitting
from intonation.engine.levers import Known, levers_sentence
from intonation.heldnotes.row import HeldNoteRow
from intonation.practice.checking import Checking, CheckSettings
from intonation.practice.ear_block import known_of
from intonation.store.checks import CheckRecord, Checks
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.records import SessionRecord
from intonation.store.store import Store
from intonation.words.check import ANOTHER_DAY, ROOM_UNKNOWN

SAME_SITTING = timedelta(minutes=30)
"""After a longer pause the microphone may have moved, the instrument cooled (design judgement)."""


REPEATED_NOTES = 5
"""So many notes are measured again in about a minute."""
_ON_ONE_NOTE = ("natural", "careful-swell", "natural and careful-swell")


@dataclass(frozen=True, slots=True)
class Judged:
    """A verdict, and what follows from it.

    Parameters
    ----------
    pair
        The diagnosis.
    again
        What to play on which notes to settle most soonest.
    also
        Sentences about what else is known of the player on this instrument.
    """

    pair: PairDiagnosis
    again: dict[int, Experiment]
    also: tuple[str, ...] = ()


def settled_best_by_repeating(pair: PairDiagnosis) -> dict[int, Experiment]:
    """Return the few notes that measuring again would settle best, and what to play on each."""
    gains: list[tuple[float, int, Experiment]] = []
    for note in pair.notes:
        here = (option for option in note.next if option.experiment in _ON_ONE_NOTE)
        best = next(here, None)
        if best is not None:
            gains.append((best.gain, note.midi, best.experiment))
    best_first = sorted(gains, key=lambda each: -each[0])[:REPEATED_NOTES]
    return {midi: experiment for _, midi, experiment in best_first}


@dataclass(slots=True)
class CheckBench:
    """The checks of every player and instrument of a record.

    Parameters
    ----------
    store
        The practice record.
    now
        Returns the present date and time.
    """

    store: Store
    now: Callable[[], datetime]
    _sittings: dict[tuple[str, str], tuple[GuidedCheck, datetime]] = field(default_factory=dict)

    @property
    def checks(self) -> Checks:
        """The checks of the record."""
        return Checks(self.store.database)

    def known(self) -> tuple[CheckRecord, ...]:
        """Return every check, the oldest first."""
        return self.checks.all()

    def unfinished(self, player: str, instrument: str) -> CheckRecord | None:
        """Return the latest check of a pair if it can be gone on with."""
        known = self.checks.all(player=player, instrument=instrument)
        return known[-1] if known and known[-1].ended_at is None else None

    def begin(
        self, settings: CheckSettings, rng: np.random.Generator, *, notes: Sequence[int] = ()
    ) -> GuidedCheck:
        """Begin a check; one of the pair that was broken off is over then.

        Parameters
        ----------
        settings
            Whose, on what, how thorough.
        rng
            Decides the order.
        notes
            The chosen notes of a check off and on.
        """
        compass = settings.recorder.notes_midi
        return self._begun(settings, check_of(settings.form, compass, rng, notes=notes))

    def begin_again(
        self,
        settings: CheckSettings,
        experiments: Mapping[int, Experiment],
        rng: np.random.Generator,
    ) -> GuidedCheck:
        """Begin a small check of a few notes, by what would settle each."""
        again = replace(settings, form="again")
        return self._begun(again, measure_again(experiments, rng))

    def go_on(self, record: CheckRecord, settings: CheckSettings) -> GuidedCheck:
        """Go on with a check that was broken off; its form and concert pitch stay."""
        as_begun = CheckSettings(
            player=record.player,
            instrument=record.instrument,
            size=record.size,
            form=record.form,
            a4_hz=record.a4_hz,
            temperature_c=settings.temperature_c,
            warm_minutes=settings.warm_minutes,
            fingering_system=settings.fingering_system,
        )
        return self._guided(record.number, as_begun, self.checks.check(record.number))

    def left(self, guided: GuidedCheck) -> None:
        """Remember a check that was left: what is measured soon after belongs to its sitting."""
        settings = guided.checking.settings
        self._sittings[settings.player, settings.instrument] = (guided, self.now())

    def judge(self, player: str, instrument: str, *, progress: Progress) -> Judged | None:
        """Return the verdict on a pair from every check in the record; None without one.

        Parameters
        ----------
        player, instrument
            The pair.
        progress
            Called with the share that is done; an exception from it cancels.
        """
        rows = self._rows(instrument)
        for pair in diagnose(rows, progress=progress):
            if (pair.player, pair.instrument) == (player, instrument):
                own = [row for row in rows if (row.player, row.instrument) == (player, instrument)]
                return Judged(pair, settled_best_by_repeating(pair), self._also(pair, own))
        return None

    def sessions(self, player: str, instrument: str) -> tuple[SessionRecord, ...]:
        """Return the sittings of a pair with tones without a reference, and how many each has."""
        tones: dict[str, set[tuple[object, ...]]] = defaultdict(set)
        for row in self._own(player, instrument):
            # a swell is one tone, whatever number of rows it has
            tones[row.session].add((row.kind, row.midi, row.swell or row.event))
        return tuple(
            replace(record, held_notes=len(tones[record.session]))
            for record in self.store.sessions(player=player, instrument=instrument)
            if record.session in tones
        )

    def compare(
        self,
        player: str,
        instrument: str,
        *,
        before: Collection[str],
        after: Collection[str],
        progress: Progress,
    ) -> tuple[NoteChange, ...]:
        """Return what changed on an instrument between sittings; see `comparison.compare`."""
        rows = self._own(player, instrument)
        return compare(rows, before=before, after=after, progress=progress)

    def _also(self, pair: PairDiagnosis, rows: Sequence[HeldNoteRow]) -> tuple[str, ...]:
        answers = ListeningAnswers(self.store.database).answers(pair.player)
        matched = self.checks.held_to_reference(pair.player, pair.instrument)
        known = Known(pair, rows, matched, known_of(answers).estimates)
        thorough = [
            record
            for record in self.checks.all(player=pair.player, instrument=pair.instrument)
            if record.form == "thorough" and record.ended_at is not None
        ]
        second_day = (ANOTHER_DAY,) if len(thorough) % SITTINGS["thorough"] else ()
        room = () if any(row.temperature_c is not None for row in rows) else (ROOM_UNKNOWN,)
        return (*second_day, *room, levers_sentence(known))

    def _own(self, player: str, instrument: str) -> list[HeldNoteRow]:
        return list(self.checks.notes_without_reference(player=player, instrument=instrument))

    def _rows(self, instrument: str) -> list[HeldNoteRow]:
        """Return what informs a verdict: of the instrument only since it was last worked on."""
        rows = self.checks.notes_without_reference()
        moments = [
            moment
            for trial in self.store.trials.all(instrument=instrument)
            for moment in (trial.made_at, trial.undone_at)
            if moment is not None
        ]
        if not moments:
            return list(rows)
        later = self.store.held_notes(instrument=instrument, since=max(moments))
        since = {row.event for row in later}
        return [row for row in rows if row.instrument != instrument or row.event in since]

    def _begun(self, settings: CheckSettings, check: Check) -> GuidedCheck:
        unfinished = self.unfinished(settings.player, settings.instrument)
        if unfinished is not None:
            self.checks.end(unfinished.number, ended_at=self.now())
        number = self.checks.begin(settings, check, began_at=self.now())
        return self._guided(number, settings, check)

    def _guided(self, number: int, settings: CheckSettings, check: Check) -> GuidedCheck:
        sitting = self._sitting(settings)
        checking = Checking(settings, settings.recorder, check)
        return GuidedCheck(number, checking, sitting, checks=self.checks, now=self.now)

    def _sitting(self, settings: CheckSettings) -> Sitting:
        now = self.now()
        earlier = self._sittings.get((settings.player, settings.instrument))
        if earlier is not None and now - earlier[1] <= SAME_SITTING:
            return earlier[0].kept
        return Sitting(f"{now:%Y-%m-%d %H:%M:%S} check", now)
