from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from intonation.app.exercise_plan import ExercisePlan
from intonation.engine.messages import SoundSettings, StartMelody, StartTake
from intonation.engine.recorder import PracticeRecorder
from intonation.errors import StoreError
from intonation.exercise.library import exercise_named
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.support.scripted_engine import ScriptedEngine

BEGIN = datetime(2026, 3, 1, 18, 30, tzinfo=UTC)
SETTINGS = PracticeSettings(player="wren", instrument="alto", temperature_c=20.0)


def clock() -> Iterator[datetime]:
    """Yield moments that lie a minute apart."""
    moment = BEGIN
    while True:
        yield moment
        moment += timedelta(minutes=1)


def recorder(store: Store) -> PracticeRecorder:
    moments = clock()
    return PracticeRecorder(store, session="evening", now=lambda: next(moments))


def held_notes(*notes: tuple[int, float]) -> list[NoteScored]:
    engine = ScriptedEngine(SoundSettings(), lambda _: None)
    engine.send(StartTake(SETTINGS))
    return [engine.end_note(midi, cents) for midi, cents in notes]


def test_a_kept_note_can_be_read_by_another_program_at_once(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite"
    with Store(path) as store, Store(path) as other:
        recording = recorder(store)
        recording.begin_take(SETTINGS)
        (note,) = held_notes((72, -12.6))
        recording.keep(note)
        (row,) = other.held_notes()
        assert (row.player, row.session, row.midi, row.cents) == ("wren", "evening", 72, -12.6)
        assert (row.kind, row.reference, row.blind) == ("matched", True, True)


def test_takes_and_notes_carry_the_settings_and_times_of_their_take(tmp_path: Path) -> None:
    with Store(tmp_path / "record.sqlite") as store:
        recording = recorder(store)
        for drone in (65, 62):
            recording.begin_take(replace(SETTINGS, drone_midi=drone))
            for note in held_notes((72, 1.0), (77, 2.0)):
                recording.keep(note)
            recording.end_take()
        takes = store.takes()
        assert [take.drone_midi for take in takes] == [65, 62]
        assert [take.held_notes for take in takes] == [2, 2]
        assert takes[0].began_at == BEGIN
        minutes = [row.minutes for row in store.held_notes() if row.minutes is not None]
        assert minutes == sorted(minutes)
        assert minutes[2] >= 4.0


def test_a_note_that_the_store_refuses_is_written_with_the_next_one(tmp_path: Path) -> None:
    folder = tmp_path / "full"
    folder.write_text("a file where the folder should be")
    with Store(folder / "record.sqlite") as store:
        recording = recorder(store)
        with pytest.raises(StoreError):
            recording.begin_take(SETTINGS)
        first, second = held_notes((72, -12.6), (77, 8.1))
        with pytest.raises(StoreError):
            recording.keep(first)
        assert recording.unwritten == 1
        folder.unlink()
        recording.keep(second)
        assert recording.unwritten == 0
        assert [row.midi for row in store.held_notes()] == [72, 77]
        assert [take.held_notes for take in store.takes()] == [2]


def test_a_phrase_is_kept_note_by_note_as_melody(tmp_path: Path) -> None:
    score = ExercisePlan.of(exercise_named("innsbruck")).score(SETTINGS, seed=0)
    engine = ScriptedEngine(SoundSettings(), lambda _: None)
    engine.send(StartMelody(score, SETTINGS))
    phrases = [engine.end_phrase(number, [4.0, -3.0, 6.0]) for number in (0, 1)]
    with Store(tmp_path / "record.sqlite") as store:
        recording = recorder(store)
        recording.begin_take(SETTINGS)
        for phrase in phrases:
            recording.keep(phrase)
        rows = list(store.held_notes())
        assert [round(row.cents, 6) for row in rows] == [4.0, -3.0, 6.0] * 2
        assert {row.kind for row in rows} == {"melody"}
        assert [row.order for row in rows] == [1, 2, 3, 4, 5, 6]
