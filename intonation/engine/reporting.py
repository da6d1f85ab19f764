"""Joins the printed reports to the practice record: what is asked for becomes what is printed."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import hypot
from statistics import fmean

from intonation.assessment.summary import NoteSummary
from intonation.engine.habit_record import HabitRecord
from intonation.errors import SettingsError
from intonation.heldnotes.traced_note import TracedNote
from intonation.language import say
from intonation.listening.history import day_results, latest_estimates
from intonation.pitch.notes import note_name
from intonation.report.pages.day_plot import Sitting
from intonation.report.pages.instrument_page import InstrumentReport
from intonation.report.pages.lesson_page import LessonReport
from intonation.report.pages.player_page import OnInstrument, PlayerReport
from intonation.report.pages.session_page import SessionReport
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.sittings import PairSummary, Sittings, SittingSummary
from intonation.store.store import Store
from intonation.store.traces import SeenTake
from intonation.words.hearing import estimate_in_words
from intonation.words.instruments import described
from intonation.words.targets import tuning_in_words

USUAL_WEEK = timedelta(days=7)
"""Without a date, a lesson report goes back so far from the last sitting."""

_MOST_TAKES = 200
_NOTHING = (
    say("No such notes are kept."),
    say("See `intonation players` for whose there are; notes are kept while you practise."),
)


@dataclass(frozen=True, slots=True)
class Reporting:
    """The reports that can be made of a practice record.

    Parameters
    ----------
    store
        The practice record.
    now
        Returns the present date and time.
    """

    store: Store
    now: Callable[[], datetime]

    def session(
        self,
        player: str,
        instrument: str,
        *,
        session: str | None = None,
        take: int | None = None,
        remark: str = "",
    ) -> SessionReport:
        """Return the report of a sitting, or of one take; the latest sitting if none is named.

        Raises
        ------
        SettingsError
            If there is no such sitting or take.
        """
        takes = self.store.traces.takes(player=player, instrument=instrument, last=_MOST_TAKES)
        name = session or self._session_of(player, instrument, takes, take)
        chosen = [t for t in takes if t.session == name and take in (None, t.number)]
        notes = self._sittings.means(player=player, instrument=instrument, session=name, take=take)
        if not notes:
            raise SettingsError(*_NOTHING)
        return SessionReport(
            player=player,
            instrument=instrument,
            began_at=min((t.began_at for t in chosen), default=self._began(player, name)),
            written_at=self.now(),
            played_with=tuple(dict.fromkeys(map(_played_with, reversed(chosen)))),
            temperature_c=self._temperature(player, instrument, name),
            notes=tuple(sorted(notes, key=_farthest_first)),
            held=tuple(self._held(chosen)),
            remark=remark,
        )

    def player(self, player: str, *, remark: str = "") -> PlayerReport:
        """Return the report of a player over time.

        Raises
        ------
        SettingsError
            If nothing is kept of the player.
        """
        pairs = [pair for pair in self._sittings.pairs() if pair.player == player]
        if not pairs:
            raise SettingsError(*_NOTHING)
        return PlayerReport(
            player=player,
            written_at=self.now(),
            instruments=tuple(map(self._on_instrument, pairs)),
            ear=self._ear(player),
            remark=remark,
        )

    def instrument(self, instrument: str, *, remark: str = "") -> InstrumentReport:
        """Return the report of an instrument with everyone who played it.

        Raises
        ------
        SettingsError
            If nothing is kept of the instrument.
        """
        pairs = [pair for pair in self._sittings.pairs() if pair.instrument == instrument]
        if not pairs:
            raise SettingsError(*_NOTHING)
        usual = {pair.player: self._habits.usual(pair.player, instrument) for pair in pairs}
        owners = {
            pair.player: tuple(self._habits.owners(pair.player, instrument).values())
            for pair in pairs
        }
        known = self.store.instruments.named(instrument)
        return InstrumentReport(
            instrument=instrument,
            described="" if known is None else _capital(described(known)),
            written_at=self.now(),
            players={name: notes for name, notes in usual.items() if notes},
            owners={name: notes for name, notes in owners.items() if notes},
            trials=self.store.trials.all(instrument=instrument),
            remark=remark,
        )

    def lesson(
        self, player: str, instrument: str, *, since: datetime | None = None, remark: str = ""
    ) -> LessonReport:
        """Return the report for a lesson.

        Parameters
        ----------
        player, instrument
            Who plays what.
        since
            When the last lesson was; None goes back a week from the last sitting.
        remark
            The teacher's own words.

        Raises
        ------
        SettingsError
            If nothing is kept of the player on the instrument.
        """
        sittings = self._sittings.of(player=player, instrument=instrument)
        if not sittings:
            raise SettingsError(*_NOTHING)
        last_at = max((s.began_at for s in sittings if s.began_at), default=self.now())
        from_at = since or last_at - USUAL_WEEK
        return LessonReport(
            player=player,
            instrument=instrument,
            since=from_at.astimezone().date(),
            written_at=self.now(),
            sittings=sum(1 for s in sittings if s.began_at and s.began_at >= from_at),
            minutes=self._sittings.minutes(player, instrument, since=from_at),
            before=self._habits.usual(player, instrument, until=from_at),
            after=self._habits.usual(player, instrument, since=from_at),
            habits=self._habits.habits(player, instrument),
            ear=self._ear(player),
            remark=remark,
        )

    @property
    def _sittings(self) -> Sittings:
        return Sittings(self.store.database)

    @property
    def _habits(self) -> HabitRecord:
        return HabitRecord(self.store, self.now)

    def _session_of(
        self, player: str, instrument: str, takes: Iterable[SeenTake], take: int | None
    ) -> str:
        """Return the name of the sitting of a take, or of the latest sitting."""
        for one in takes:
            if take in (None, one.number):
                return one.session
        known = self._sittings.of(player=player, instrument=instrument)
        if take is not None or not known:
            raise SettingsError(*_NOTHING)
        return known[-1].session

    def _began(self, player: str, session: str) -> datetime | None:
        of = self._sittings.of(player=player)
        return next((one.began_at for one in of if one.session == session), None)

    def _temperature(self, player: str, instrument: str, session: str) -> float | None:
        rows = self.store.held_notes(player=player, instrument=instrument, session=session)
        known = [row.temperature_c for row in rows if row.temperature_c is not None]
        return fmean(known) if known else None

    def _held(self, takes: list[SeenTake]) -> Iterable[TracedNote]:
        for take in reversed(takes):
            yield from self.store.traces.notes(take.number)

    def _on_instrument(self, pair: PairSummary) -> OnInstrument:
        sittings = self._sittings.of(player=pair.player, instrument=pair.instrument)
        return OnInstrument(
            instrument=pair.instrument,
            sittings=tuple(_dated(sitting) for sitting in sittings if sitting.began_at),
            habits=self._habits.habits(pair.player, pair.instrument),
        )

    def _ear(self, player: str) -> tuple[str, ...]:
        answers = ListeningAnswers(self.store.database).answers(player)
        found = latest_estimates(day_results(answers))
        return tuple(
            _capital(f"{condition.drill}: {estimate_in_words(condition, estimate)}")
            for condition, estimate in found.items()
        )


def _farthest_first(note: NoteSummary) -> tuple[float, int]:
    return (-hypot(note.mean_cents, note.spread_cents), note.midi)


def _played_with(take: SeenTake) -> str:
    drone = (
        "" if take.drone_midi is None else say(", drone {note}", note=note_name(take.drone_midi))
    )
    return say(
        "A4 = {a4_hz:g} Hz, {tuning}{drone}",
        a4_hz=take.a4_hz,
        tuning=tuning_in_words(take.temperament),
        drone=drone,
    )


def _dated(sitting: SittingSummary) -> Sitting:
    assert sitting.began_at is not None
    return Sitting(
        day=sitting.began_at.astimezone().date(),
        held_notes=sitting.held_notes,
        off_cents=sitting.off_cents,
        mean_cents=sitting.mean_cents,
    )


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
