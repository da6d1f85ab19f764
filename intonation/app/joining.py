"""Joins the interface to the sound engine's process and to the practice record."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from threading import RLock
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from intonation.app.sound_link import Heard
    from intonation.app.surroundings import Surroundings
    from intonation.engine.check_bench import CheckBench
    from intonation.engine.habit_record import HabitRecord
    from intonation.engine.instrument_desk import InstrumentDesk
    from intonation.engine.messages import PhraseScored, SoundSettings
    from intonation.engine.players import PlayersDesk
    from intonation.engine.process import EngineClient
    from intonation.engine.recorder import PracticeRecorder
    from intonation.engine.reporting import Reporting
    from intonation.engine.workbench import Workbench
    from intonation.practice.events import NoteScored
    from intonation.practice.settings import PracticeSettings
    from intonation.store.listening_answers import ListeningAnswers
    from intonation.store.settings import RememberedSettings
    from intonation.store.store import Store


class Record:
    """The practice record and the sitting that is kept in it, opened when first asked for.

    Any thread may ask.

    Parameters
    ----------
    store
        Where notes are kept; None takes the player's own practice record.
    """

    def __init__(self, store: Store | None = None) -> None:
        self.complaint: str | None = None
        self._store = store
        self._recorder: PracticeRecorder | None = None
        self._session = _now().strftime("%Y-%m-%d %H:%M:%S")
        self._lock = RLock()

    @property
    def store(self) -> Store:
        """The record itself; one that stands in for it leaves a complaint."""
        with self._lock:
            if self._store is None:
                self._store, self.complaint = _players_own()
            return self._store

    @property
    def recorder(self) -> PracticeRecorder:
        """What keeps this sitting."""
        from intonation.engine.recorder import PracticeRecorder

        with self._lock:
            if self._recorder is None:
                self._recorder = PracticeRecorder(self.store, session=self._session, now=_now)
            return self._recorder

    def open(self) -> str | None:
        """Open it now; return what is wrong with the player's own record, if anything is."""
        _ = self.recorder
        return self.complaint

    def begin_take(self, settings: PracticeSettings) -> None:
        """Note that a take begins; see `PracticeRecorder.begin_take`."""
        self.recorder.begin_take(settings)

    def keep(self, scored: NoteScored | PhraseScored) -> None:
        """Keep a note or a phrase; see `PracticeRecorder.keep`."""
        self.recorder.keep(scored)

    def end_take(self) -> None:
        """Note that the take has ended; see `PracticeRecorder.end_take`."""
        self.recorder.end_take()


def joined(record: Record, *, remember: Callable[[RememberedSettings], None]) -> Surroundings:
    """Return what the interface needs of sound and record; each part opens when it is needed."""
    from intonation.app.surroundings import Surroundings

    return Surroundings(
        connect=_started_engine,
        remember=remember,
        open_record=record.open,
        begin_take=record.begin_take,
        keep=record.keep,
        end_take=record.end_take,
        workbench=cache(lambda: _workbench(record.store)),
        ear_answers=lambda: _ear_answers(record.store),
        checks=lambda: _checks(record.store),
        habits=lambda: _habit_record(record.store),
        instruments=lambda: _instruments(record.store),
        traces=lambda: record.store.traces,
        players=lambda: _players(record.store),
        reporting=lambda: _reporting(record.store),
    )


def _players_own() -> tuple[Store, str | None]:
    from intonation.store.opening import open_store
    from intonation.store.places import record_path

    opened = open_store(record_path())
    return opened.store, str(opened.complaint) if opened.complaint else None


def _workbench(store: Store) -> Workbench:
    from intonation.engine.workbench import Workbench
    from intonation.store.own_geometries import OwnGeometries
    from intonation.store.places import own_geometries_path

    return Workbench(store, _now, geometries=OwnGeometries(own_geometries_path()))


def _ear_answers(store: Store) -> ListeningAnswers:
    from intonation.store.listening_answers import ListeningAnswers

    return ListeningAnswers(store.database)


def _checks(store: Store) -> CheckBench:
    from intonation.engine.check_bench import CheckBench

    return CheckBench(store, _now)


def _instruments(store: Store) -> InstrumentDesk:
    from intonation.engine.instrument_desk import InstrumentDesk
    from intonation.store.own_geometries import OwnGeometries
    from intonation.store.places import own_geometries_path

    return InstrumentDesk(store.instruments, OwnGeometries(own_geometries_path()))


def _habit_record(store: Store) -> HabitRecord:
    from intonation.engine.habit_record import HabitRecord

    return HabitRecord(store, _now)


def _reporting(store: Store) -> Reporting:
    from intonation.engine.reporting import Reporting

    return Reporting(store, _now)


def _players(store: Store) -> PlayersDesk:
    from intonation.engine.players import PlayersDesk

    return PlayersDesk(store, _now)


def _started_engine(sound: SoundSettings, heard: Heard) -> EngineClient:
    from intonation.engine.process import EngineClient
    from intonation.store.places import log_folder

    client = EngineClient(sound, heard, log_path=log_folder() / "sound.log")
    client.start()
    return client


def _now() -> datetime:
    return datetime.now().astimezone()
