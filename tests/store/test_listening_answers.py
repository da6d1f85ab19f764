"""Answers given by ear are on disk at once and come back as they were."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.errors import StoreError
from intonation.listening.adjustment import TunedNote
from intonation.listening.history import KeptAnswer, KeptTuning
from intonation.listening.trials import Condition
from intonation.store import schema
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.store import Store
from tests.store.test_store import a_note

MORNING = datetime(2031, 3, 14, 9, 0, 3, 250_000, tzinfo=UTC)
CONDITIONS = st.builds(
    Condition,
    drill=st.text(st.characters(codec="utf-8"), min_size=1, max_size=12),
    interval=st.none() | st.text(st.characters(codec="utf-8"), max_size=12),
    register=st.sampled_from(("low", "high")),
)
ANSWERS = st.builds(
    KeptAnswer,
    condition=CONDITIONS,
    answered_at=st.datetimes(
        min_value=datetime(2001, 1, 1), max_value=datetime(2100, 1, 1), timezones=st.just(UTC)
    ),
    step_cents=st.floats(-50.0, 50.0),
    deviation_cents=st.floats(-50.0, 50.0),
    choices=st.integers(2, 30),
    choice=st.text(st.characters(codec="utf-8"), max_size=12),
    right=st.text(st.characters(codec="utf-8"), max_size=12),
)


def an_answer(*, drill: str = "which way", step_cents: float = 7.5) -> KeptAnswer:
    return KeptAnswer(
        condition=Condition(drill=drill, interval="fifth", register="high"),
        answered_at=MORNING,
        step_cents=step_cents,
        deviation_cents=step_cents,
        choices=2,
        choice="sharp",
        right="flat",
    )


@given(answers=st.lists(ANSWERS, max_size=5))
@settings(max_examples=30, deadline=None)
def test_answers_come_back_as_they_were(answers: list[KeptAnswer]) -> None:
    with Store(None) as store:
        listening = ListeningAnswers(store.database)
        for answer in answers:
            listening.add("wren", answer)
        assert list(listening.answers("wren")) == answers
        assert listening.answers("heron") == ()


def test_an_answer_is_in_the_file_when_the_call_returns(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"
    store = Store(path)
    ListeningAnswers(store.database).add("wren", an_answer())
    # another program, and the first one never closed its file
    with sqlite3.connect(path) as other:
        assert other.execute("SELECT drill, choice FROM listening_answers").fetchall() == [
            ("which way", "sharp")
        ]
    store.close()


def test_answers_of_one_drill_can_be_asked_for() -> None:
    with Store(None) as store:
        listening = ListeningAnswers(store.database)
        for drill in ("which way", "remember", "which way"):
            listening.add("wren", an_answer(drill=drill))
        assert len(listening.answers("wren", drill="which way")) == 2


def test_tuned_notes_come_back_as_they_were() -> None:
    condition = Condition(drill="tune it", interval="octave")
    note = TunedNote(start_cents=-22.0, final_cents=1.25)
    tuning = KeptTuning(condition=condition, tuned_at=MORNING, note=note)
    with Store(None) as store:
        listening = ListeningAnswers(store.database)
        listening.add_tuned("wren", tuning)
        assert listening.tuned("wren") == (tuning,)
        assert listening.tuned("wren", drill="which way") == ()


def test_an_answer_without_a_number_is_refused() -> None:
    with Store(None) as store, pytest.raises(StoreError, match="cannot be kept"):
        ListeningAnswers(store.database).add("wren", an_answer(step_cents=float("nan")))


def test_a_record_from_before_the_ear_drills_takes_answers_and_keeps_its_notes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "practice.sqlite"
    with monkeypatch.context() as in_the_past:
        in_the_past.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:1])
        in_the_past.setattr(schema, "SCHEMA_VERSION", 1)
        in_the_past.setattr("intonation.store.database.SCHEMA_VERSION", 1)
        with Store(path) as store:
            store.add_held_note(a_note())
    with Store(path) as store:
        ListeningAnswers(store.database).add("wren", an_answer())
        assert len(ListeningAnswers(store.database).answers("wren")) == 1
        assert len(list(store.held_notes())) == 1
