"""An instrument check in the record: every settled step is there when the program comes back."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from intonation.diagnosis.check import Check, new_check
from intonation.heldnotes.row import HeldNoteRow
from intonation.practice.checking import CheckSettings
from intonation.store.checks import Checks
from intonation.store.details import HeldNoteDetails
from intonation.store.store import Store

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
SETTINGS = CheckSettings(player="wren", instrument="pear alto", size="alto")


def row(midi: int, kind: str = "natural") -> HeldNoteRow:
    return HeldNoteRow(
        event=0,
        player="wren",
        instrument="pear alto",
        session="evening",
        midi=midi,
        kind=kind,  # type: ignore[arg-type]
        cents=3.0,
    )


def short_check() -> Check:
    return new_check("short", range(65, 92), np.random.default_rng(1))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "record.sqlite"


@pytest.fixture
def store(path: Path) -> Iterator[Store]:
    with Store(path) as opened:
        yield opened


def test_a_check_goes_on_where_it_was_broken_off(path: Path, store: Store) -> None:
    check, checks = short_check(), Checks(store.database)
    number = checks.begin(SETTINGS, check, began_at=EVENING)
    first, second, third, *rest = check.ahead
    checks.settle(number, first, "played", [(row(first.midi), HeldNoteDetails())], at=EVENING)
    checks.settle(number, third, "left out", at=EVENING)
    store.close()
    with Store(path) as again:
        found = Checks(again.database)
        assert found.check(number) == Check((second, *rest), done=2, left_out=(third,))
        (known,) = found.all(player="wren", instrument="pear alto")
        assert (known.steps, known.settled, known.ended_at) == (30, 2, None)
        assert [note.midi for note in again.held_notes(session="evening")] == [first.midi]


def test_a_check_that_was_ended_is_known_to_be(store: Store) -> None:
    checks = Checks(store.database)
    number = checks.begin(SETTINGS, short_check(), began_at=EVENING)
    checks.end(number, ended_at=EVENING)
    assert [known.ended_at for known in checks.all()] == [EVENING]
    assert checks.all(player="heron") == ()


def test_a_step_whose_notes_cannot_all_be_kept_is_not_settled(store: Store) -> None:
    check, checks = short_check(), Checks(store.database)
    number = checks.begin(SETTINGS, check, began_at=EVENING)

    def broken_off() -> Iterator[tuple[HeldNoteRow, HeldNoteDetails]]:
        yield row(check.ahead[0].midi), HeldNoteDetails()
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        checks.settle(number, check.ahead[0], "played", broken_off(), at=EVENING)
    assert checks.check(number) == check
    assert list(store.held_notes()) == []


def test_only_notes_without_a_reference_are_judged(store: Store) -> None:
    kinds = ["natural", "matched", "careful", "melody", "careful-swell", "swell"]
    store.add_held_notes([row(70, kind) for kind in kinds])
    found = Checks(store.database).notes_without_reference()
    assert [note.kind for note in found] == ["natural", "careful", "careful-swell", "swell"]
