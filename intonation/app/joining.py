"""Joins the interface to the sound engine's process and to the practice record."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from intonation.app.sound_link import Heard
    from intonation.app.surroundings import Surroundings
    from intonation.engine.check_bench import CheckBench
    from intonation.engine.habit_record import HabitRecord
    from intonation.engine.messages import SoundSettings
    from intonation.engine.players import PlayersDesk
    from intonation.engine.process import EngineClient
    from intonation.engine.recorder import PracticeRecorder
    from intonation.engine.reporting import Reporting
    from intonation.engine.workbench import Workbench
    from intonation.store.listening_answers import ListeningAnswers
    from intonation.store.settings import RememberedSettings
    from intonation.store.store import Store


def player_store(troubles: dict[str, str]) -> Store:
    """Return the player's own practice record, or one in memory with the reason among troubles."""
    from intonation.store.opening import open_store
    from intonation.store.places import record_path

    opened = open_store(record_path())
    if opened.complaint:
        troubles["record file"] = str(opened.complaint)
    return opened.store


def recorder_of(store: Store) -> PracticeRecorder:
    """Return what keeps a new sitting in a record."""
    from intonation.engine.recorder import PracticeRecorder

    session = _now().strftime("%Y-%m-%d %H:%M:%S")
    return PracticeRecorder(store, session=session, now=_now)


def joined(
    recorder: PracticeRecorder, store: Store, *, remember: Callable[[RememberedSettings], None]
) -> Surroundings:
    """Return what the interface needs of sound and record; each part opens when it is needed."""
    from intonation.app.surroundings import Surroundings

    return Surroundings(
        connect=_started_engine,
        remember=remember,
        begin_take=recorder.begin_take,
        keep=recorder.keep,
        end_take=recorder.end_take,
        workbench=cache(lambda: _workbench(store)),
        ear_answers=lambda: _ear_answers(store),
        checks=lambda: _checks(store),
        habits=lambda: _habit_record(store),
        traces=store.traces,
        players=lambda: _players(store),
        reporting=lambda: _reporting(store),
    )


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
