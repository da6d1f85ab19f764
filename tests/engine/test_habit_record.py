"""What the record tells of a player, on the instrument as it is now, with what checks say."""

from datetime import UTC, datetime, timedelta

import pytest

from intonation.acoustics.alterations import Alteration
from intonation.engine.habit_record import HabitRecord
from intonation.instruments.library import instrument_named
from intonation.store.store import Store
from tests.store.test_store import a_note
from tests.support.faulty_alto import faulty_alto

EVENING = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)
PAPER = Alteration(work="clay at the window", amount_mm=0.5, hole=None, from_mm=0.0, to_mm=2.0)


def keep(store: Store, cents: float, moment: datetime) -> None:
    for again in range(8):
        note = a_note(midi=81, cents=cents + 0.1 * again, session=f"{moment:%d %H}")
        store.add_held_note(note, held_at=moment)


def record_of(store: Store) -> HabitRecord:
    return HabitRecord(store, lambda: EVENING)


def test_after_work_on_the_instrument_only_what_was_played_since_counts() -> None:
    with Store(None) as store:
        keep(store, 20.0, EVENING - timedelta(days=4))
        store.trials.log(
            [PAPER],
            player="wren",
            instrument="alto",
            made_at=EVENING - timedelta(days=2),
            predicted_cents={81: -12.0},
        )
        assert record_of(store).habits("wren", "alto").count == 0
        keep(store, 6.0, EVENING - timedelta(days=1))
        (note,) = record_of(store).habits("wren", "alto").notes
        assert note.usual is not None
        assert note.usual.mean == pytest.approx(6.35, abs=0.5)


def test_whose_a_note_is_comes_from_the_checks_alone() -> None:
    alto = faulty_alto(3)
    with Store(None) as store:
        keep(store, 5.0, EVENING)
        assert record_of(store).owners("wren", "alto") == {}
        for row in alto.check("first day", "AB"):
            store.add_held_note(row, held_at=EVENING)
        owners = record_of(store).owners(row.player, row.instrument)
        assert len(owners) == 27
        assert owners[81].midi == 81


def test_working_out_whose_it_is_can_be_left() -> None:
    class Left(Exception):  # noqa: N818
        pass

    def leave(_: float) -> None:
        raise Left

    with Store(None) as store:
        for row in faulty_alto(3).check("first day", "AB"):
            store.add_held_note(row, held_at=EVENING)
        with pytest.raises(Left):
            record_of(store).owners(row.player, row.instrument, progress=leave)


def test_today_is_made_of_the_same_record() -> None:
    with Store(None) as store:
        keep(store, 22.0, EVENING - timedelta(days=5))
        choices = record_of(store).today("wren", instrument_named("alto"))
        assert choices.days_away == 5
        assert not choices.from_nothing
        assert choices.of["note"][0].midi == 81  # type: ignore[union-attr]
