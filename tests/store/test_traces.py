"""Yesterday's take can be looked at: its notes come back with their pitch over time."""

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.engine.recorder import PracticeRecorder
from intonation.heldnotes.row import HeldNoteRow
from intonation.practice.settings import PracticeSettings
from intonation.store.schema import APPLICATION_ID, MIGRATIONS
from intonation.store.store import Store
from intonation.store.traces import packed, unpacked
from intonation.tracking.trace import PitchTrace
from tests.support.traces import held_against_the_drone

EVENING = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)
POINTS = st.none() | st.floats(-1500.0, 1500.0, allow_nan=False)


@given(points=st.lists(st.tuples(POINTS, POINTS), max_size=200))
@settings(max_examples=40, deadline=None)
def test_a_trace_comes_back_to_a_twentieth_of_a_cent_and_a_tenth_of_a_decibel(
    points: list[tuple[float | None, float | None]],
) -> None:
    trace = PitchTrace(0.025, tuple(c for c, _ in points), tuple(d for _, d in points))
    again = unpacked(*packed(trace))
    assert again is not None
    for was, now, step in (
        (trace.cents, again.cents, 0.05),
        (trace.level_db, again.level_db, 0.1),
    ):
        assert [value is None for value in was] == [value is None for value in now]
        known = [(a, b) for a, b in zip(was, now, strict=True) if a is not None and b is not None]
        assert all(abs(a - b) <= step / 2.0 + 1e-9 for a, b in known)


def test_a_take_is_seen_again_with_every_note_after_the_program_was_closed(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"
    settings = PracticeSettings(player="wren", a4_hz=415.0)
    notes = held_against_the_drone(settings, (72, -12.6), (77, 8.1))
    with Store(path) as store:
        recorder = PracticeRecorder(store, session="evening", now=lambda: EVENING)
        recorder.begin_take(settings)
        for note in notes:
            recorder.keep(note)
        recorder.end_take()
    with Store(path) as store:
        (take,) = store.traces.takes(player="wren")
        assert (take.session, take.a4_hz, take.held_notes) == ("evening", 415.0, 2)
        first, second = store.traces.notes(take.number)
    assert (first.number, first.midi, first.cents) == (1, 72, -12.6)
    assert (second.number, second.midi) == (2, 77)
    assert first.trace == notes[0].scored.held.trace
    assert first.trace is not None
    assert first.off_target_cents[40] == pytest.approx((first.trace.cents[40] or 0.0) - 12.6)


def test_takes_are_listed_the_latest_first_and_empty_ones_are_left_out() -> None:
    with Store(None) as store:
        for days in range(3):
            began_at = EVENING + timedelta(days=days)
            settings = PracticeSettings(player="wren" if days else "heron")
            take = store.begin_take(f"day {days}", settings=settings, began_at=began_at)
            row = HeldNoteRow(
                event=0,
                player=settings.player,
                instrument="alto",
                session=f"day {days}",
                midi=69,
                cents=1.0,
            )
            store.add_held_note(row, take=take)
        store.begin_take("day 9", settings=PracticeSettings(player="wren"), began_at=EVENING)
        assert [take.session for take in store.traces.takes()] == ["day 2", "day 1", "day 0"]
        assert [take.session for take in store.traces.takes(player="heron")] == ["day 0"]
        assert [take.session for take in store.traces.takes(last=1)] == ["day 2"]
        assert [take.session for take in store.traces.takes(session="day 1")] == ["day 1"]


def test_notes_of_a_record_from_before_there_were_traces_are_listed_without_them(
    tmp_path: Path,
) -> None:
    path = tmp_path / "practice.sqlite"
    connection = sqlite3.connect(path)
    for statement in (each for migration in MIGRATIONS[:3] for each in migration):
        connection.execute(statement)
    connection.execute("INSERT INTO players (name) VALUES ('wren')")
    connection.execute("INSERT INTO instruments (name) VALUES ('alto')")
    connection.execute("INSERT INTO sessions VALUES (1, 1, 1, 'evening', NULL)")
    connection.execute(
        "INSERT INTO takes (session_id, began_at, a4_hz, temperament)"
        " VALUES (1, '2031-03-14T19:30:00.000000Z', 440.0, 'pure')"
    )
    connection.execute(
        "INSERT INTO held_notes (session_id, take_id, midi, fingering, kind, cents, reference,"
        " blind) VALUES (1, 1, 69, 'plain', 'matched', 4.5, 1, 1)"
    )
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute("PRAGMA user_version = 3")
    connection.commit()
    connection.close()
    with Store(path) as store:
        (note,) = store.traces.notes(1)
        assert (note.midi, note.cents, note.trace, note.off_target_cents) == (69, 4.5, None, ())


@pytest.mark.parametrize("content", [b"", b"nonsense", b"x\x9c\x03\x00\x00\x00\x00"])
def test_a_damaged_trace_costs_the_picture_and_nothing_else(content: bytes) -> None:
    assert unpacked(0.025, content) is None
