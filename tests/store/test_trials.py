"""Trials are kept with their prediction, can be undone, and older records make room for them."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from intonation.acoustics.alterations import Alteration
from intonation.errors import StoreError
from intonation.store.schema import APPLICATION_ID, MIGRATIONS
from intonation.store.store import Store

MORNING = datetime(2031, 3, 15, 9, 0, tzinfo=UTC)
NOON = datetime(2031, 3, 15, 12, 0, tzinfo=UTC)
STRIP = Alteration(work="line the bore", amount_mm=0.15, from_mm=82.0, to_mm=112.0)
TAPE = Alteration(work="tape over part of a hole", amount_mm=0.4, hole="6a")


def log(store: Store, *alterations: Alteration, instrument: str = "plum alto") -> int:
    return store.trials.log(
        alterations,
        player="wren",
        instrument=instrument,
        made_at=MORNING,
        predicted_cents={69: -1.2, 81: -6.5},
        note="baking paper, two turns",
    )


def test_a_trial_comes_back_as_it_was_logged(tmp_path: Path) -> None:
    with Store(tmp_path / "practice.sqlite") as store:
        number = log(store, STRIP, TAPE)
    with Store(tmp_path / "practice.sqlite") as store:
        (trial,) = store.trials.all()
        assert trial.number == number
        assert trial.alterations == (STRIP, TAPE)
        assert trial.predicted_cents == {69: -1.2, 81: -6.5}
        assert trial.note == "baking paper, two turns"
        assert trial.made_at == MORNING
        assert trial.undone_at is None


def test_an_undone_trial_stays_in_the_record_with_its_reason() -> None:
    with Store(None) as store:
        number = log(store, TAPE)
        store.trials.undo(number, undone_at=NOON, note="B flat spoke badly")
        (trial,) = store.trials.all()
        assert (trial.undone_at, trial.undo_note) == (NOON, "B flat spoke badly")


def test_what_does_not_stand_cannot_be_undone() -> None:
    with Store(None) as store:
        number = log(store, TAPE)
        store.trials.undo(number, undone_at=NOON)
        for wrong in (number, number + 1):
            with pytest.raises(StoreError, match="does not stand"):
                store.trials.undo(wrong, undone_at=NOON)


def test_trials_of_another_instrument_are_left_out() -> None:
    with Store(None) as store:
        log(store, TAPE)
        log(store, STRIP, instrument="pear tenor")
        (found,) = store.trials.all(player="wren", instrument="pear tenor")
        assert found.alterations == (STRIP,)
        assert store.trials.all(player="heron") == ()


def test_a_record_from_before_there_were_trials_takes_one(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"
    connection = sqlite3.connect(path)
    for statement in MIGRATIONS[0]:
        connection.execute(statement)
    connection.execute("INSERT INTO players (name) VALUES ('wren')")
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute("PRAGMA user_version = 1")
    connection.commit()
    connection.close()
    with Store(path) as store:
        log(store, STRIP)
        assert len(store.trials.all(player="wren")) == 1
