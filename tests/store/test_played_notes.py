"""The notes that habits are worked out from: the latest weeks, as the record has them."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from intonation.store.played_notes import notes_lately_played
from intonation.store.store import Store
from tests.store.test_store import a_note

EVENING = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)


@pytest.fixture
def store() -> Iterator[Store]:
    with Store(None) as store:
        yield store


def keep(store: Store, cents: float, *, days_ago: float | None, session: str, **who: str) -> None:
    held_at = None if days_ago is None else EVENING - timedelta(days=days_ago)
    store.add_held_note(a_note(cents=cents, session=session, **who), held_at=held_at)


def cents_in(store: Store, **how: object) -> list[float]:
    return [note.cents for note in notes_lately_played(store.database, "wren", "alto", **how)]


def test_the_last_twelve_weeks_count_from_the_last_sitting(store: Store) -> None:
    keep(store, 1.0, days_ago=400, session="long ago")
    keep(store, 2.0, days_ago=310, session="before the pause")
    keep(store, 3.0, days_ago=300, session="last")
    assert sorted(cents_in(store)) == [2.0, 3.0]


def test_only_this_player_on_this_instrument_counts(store: Store) -> None:
    keep(store, 1.0, days_ago=1, session="one")
    keep(store, 2.0, days_ago=1, session="one", player="heron")
    keep(store, 3.0, days_ago=1, session="one", instrument="tenor")
    assert cents_in(store) == [1.0]


def test_nothing_from_before_the_instrument_was_changed_counts(store: Store) -> None:
    keep(store, 1.0, days_ago=3, session="before")
    keep(store, 2.0, days_ago=0.2, session="the day of it")
    keep(store, 3.0, days_ago=0.0, session="the day of it")
    assert cents_in(store, since=EVENING - timedelta(hours=1)) == [3.0]


def test_of_many_notes_the_latest_count(store: Store) -> None:
    for number in range(10):
        keep(store, float(number), days_ago=10 - number, session=f"day {number}")
    assert sorted(cents_in(store, most=3)) == [7.0, 8.0, 9.0]


def test_of_one_long_sitting_the_latest_notes_count(store: Store) -> None:
    for number in range(10):
        keep(store, float(-number), days_ago=1, session="all day")
    assert sorted(cents_in(store, most=3)) == [-9.0, -8.0, -7.0]


def test_notes_without_a_date_count_where_there_are_no_others(store: Store) -> None:
    keep(store, 1.0, days_ago=None, session="imported")
    assert cents_in(store) == [1.0]
    keep(store, 2.0, days_ago=5, session="at home")
    assert cents_in(store) == [2.0]


def test_a_note_knows_its_day_and_all_that_a_habit_needs(store: Store) -> None:
    store.begin_session("evening", player="wren", instrument="alto", began_at=EVENING)
    store.add_held_note(a_note(midi=81, cents=-3.5), held_at=EVENING + timedelta(minutes=3))
    (note,) = notes_lately_played(store.database, "wren", "alto")
    assert note.day == EVENING.toordinal()
    assert (note.midi, note.cents, note.kind) == (81, -3.5, "natural")
    assert (note.reference, note.blind, note.previous_midi) == (False, True, None)


def test_nobody_has_played_anything_yet(store: Store) -> None:
    assert cents_in(store) == []
