"""The practice record keeps what it is given and finds it again."""

import statistics
import threading
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.heldnotes.columns import KINDS
from intonation.heldnotes.row import HeldNoteRow
from intonation.practice.settings import PracticeSettings
from intonation.store.details import HeldNoteDetails
from intonation.store.store import Store

EVENING = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)
NAMES = st.text(st.characters(codec="utf-8"), min_size=1, max_size=20)
NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
ROWS = st.builds(
    HeldNoteRow,
    event=st.just(0),
    player=NAMES,
    instrument=NAMES,
    session=NAMES,
    midi=st.integers(0, 127),
    fingering=NAMES,
    kind=st.sampled_from(KINDS),
    microphone=st.none() | NAMES,
    order=st.none() | st.integers(0, 10**9),
    minutes=st.none() | NUMBERS,
    temperature_c=st.none() | NUMBERS,
    cents=NUMBERS,
    level_db=st.none() | NUMBERS,
    sd_cents=st.none() | NUMBERS,
    drift_cents_per_s=st.none() | NUMBERS,
    reference=st.booleans(),
    blind=st.booleans(),
    previous_midi=st.none() | st.integers(0, 127),
    swell=st.none() | NAMES,
    swell_step=st.none() | st.integers(0, 9),
)


def a_note(
    *,
    midi: int = 69,
    cents: float = 0.0,
    player: str = "wren",
    instrument: str = "alto",
    session: str = "evening",
) -> HeldNoteRow:
    return HeldNoteRow(
        event=0, player=player, instrument=instrument, session=session, midi=midi, cents=cents
    )


@given(rows=st.lists(ROWS, max_size=5))
@settings(max_examples=30, deadline=None)
def test_every_column_of_a_held_note_comes_back_as_it_was(rows: list[HeldNoteRow]) -> None:
    with Store(None) as store:
        events = [store.add_held_note(row) for row in rows]
        kept = list(store.held_notes())
    assert [row.event for row in kept] == events
    assert [_without_event(row) for row in kept] == [_without_event(row) for row in rows]


def _without_event(row: HeldNoteRow) -> tuple[object, ...]:
    return tuple(getattr(row, name) for name in HeldNoteRow.__slots__ if name != "event")


def test_a_note_that_was_kept_is_there_for_another_program_at_once(tmp_path: Path) -> None:
    with Store(tmp_path / "practice.sqlite") as one, Store(tmp_path / "practice.sqlite") as other:
        event = one.add_held_note(a_note(cents=-7.5))
        assert [(row.event, row.cents) for row in other.held_notes()] == [(event, -7.5)]


def test_nothing_is_created_before_something_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "new" / "practice.sqlite"
    with Store(path) as store:
        assert list(store.held_notes()) == []
        assert store.sessions() == ()
        assert not path.parent.exists()
        store.add_held_note(a_note())
        assert path.exists()


def test_notes_are_found_by_player_instrument_session_and_date() -> None:
    with Store(None) as store:
        store.add_held_note(a_note(cents=1.0), held_at=EVENING)
        store.add_held_note(a_note(cents=2.0, player="heron"), held_at=EVENING)
        store.add_held_note(a_note(cents=3.0, instrument="tenor"), held_at=EVENING)
        store.add_held_note(a_note(cents=4.0, session="next day"), held_at=EVENING + timedelta(1))
        store.add_held_note(a_note(cents=5.0, session="imported"))
        assert [row.cents for row in store.held_notes(player="wren")] == [1.0, 3.0, 4.0, 5.0]
        assert [row.cents for row in store.held_notes(instrument="tenor")] == [3.0]
        assert [row.cents for row in store.held_notes(session="imported")] == [5.0]
        assert [row.cents for row in store.held_notes(player="wren", last=2)] == [4.0, 5.0]
        assert list(store.held_notes(last=0)) == []
        since = EVENING + timedelta(hours=1)
        assert [row.cents for row in store.held_notes(since=since)] == [4.0]


def test_a_date_in_any_time_zone_is_the_same_moment() -> None:
    further_east = timezone(timedelta(hours=9))
    with Store(None) as store:
        store.add_held_note(a_note(), held_at=EVENING.astimezone(further_east))
        assert list(store.held_notes(since=EVENING + timedelta(seconds=1))) == []
        assert len(list(store.held_notes(since=EVENING))) == 1


def test_a_long_record_comes_back_whole_and_in_order() -> None:
    with Store(None) as store:
        assert store.add_held_notes(a_note(cents=0.01 * n) for n in range(2_500)) == 2_500
        kept = list(store.held_notes())
    assert [row.cents for row in kept] == [0.01 * n for n in range(2_500)]


def test_an_import_that_fails_half_way_leaves_nothing_behind() -> None:
    def rows() -> list[HeldNoteRow]:
        raise LookupError

    with Store(None) as store:
        with pytest.raises(LookupError):
            store.add_held_notes(row for make in (lambda: [a_note()], rows) for row in make())
        assert list(store.held_notes()) == []


def test_means_and_spreads_are_those_of_the_statistics_library() -> None:
    cents = [3.1, -4.5, 12.25, 0.0, 7.75]
    with Store(None) as store:
        for value in cents:
            store.add_held_note(a_note(midi=72, cents=value))
        store.add_held_note(a_note(midi=65, cents=-2.0))
        store.add_held_note(a_note(midi=72, cents=50.0, player="heron"))
        lowest, other = store.note_summaries(player="wren")
    assert (lowest.midi, lowest.mean_cents, lowest.spread_cents, lowest.count) == (65, -2.0, 0, 1)
    assert (other.midi, other.count) == (72, 5)
    assert other.mean_cents == pytest.approx(statistics.fmean(cents))
    assert other.spread_cents == pytest.approx(statistics.stdev(cents))


def test_sittings_and_takes_are_listed_with_their_notes() -> None:
    practised = PracticeSettings(player="wren", a4_hz=415.0, drone_midi=62)
    with Store(None) as store:
        store.begin_session("evening", player="wren", instrument="alto", began_at=EVENING)
        later = EVENING + timedelta(days=1)
        store.begin_session("evening", player="wren", instrument="alto", began_at=later)
        take = store.begin_take("evening", settings=practised, began_at=EVENING)
        store.add_held_note(a_note(), take=take, details=HeldNoteDetails(number=1))
        store.add_held_note(a_note())
        (unfinished,) = store.takes()
        store.end_take(take, ended_at=EVENING + timedelta(minutes=4))
        (finished,) = store.takes(session="evening")
        (session,) = store.sessions(player="wren")
    assert unfinished.ended_at is None
    assert finished.ended_at == EVENING + timedelta(minutes=4)
    assert (finished.number, finished.a4_hz, finished.held_notes) == (take, 415.0, 1)
    assert (session.session, session.began_at, session.held_notes) == ("evening", EVENING, 2)


def test_two_threads_can_keep_notes_while_a_third_reads(tmp_path: Path) -> None:
    store = Store(tmp_path / "practice.sqlite")

    def keep(player: str) -> None:
        for number in range(20):
            store.add_held_note(a_note(player=player, cents=float(number)))

    threads = [threading.Thread(target=keep, args=(name,)) for name in ("wren", "heron")]
    for thread in threads:
        thread.start()
    seen = [len(list(store.held_notes())) for _ in range(10)]
    for thread in threads:
        thread.join()
    assert seen == sorted(seen)
    for player in ("wren", "heron"):
        assert [row.cents for row in store.held_notes(player=player)] == list(range(20))
    store.close()
