"""Habits are found where there are some, and nothing is said where there are none."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.habits.finding import habits_of
from intonation.habits.habit import Habits, clear_contexts, is_clear
from intonation.habits.played import PlayedNote, played_from
from intonation.heldnotes.columns import KINDS
from tests.support.habitual_player import (
    ALTO,
    FIRST_DAY,
    Practice,
    TrueHabits,
    drawn_habits,
    record_of,
)


def found_in(habits: TrueHabits, seed: int, practice: Practice | None = None) -> Habits:
    rng = np.random.default_rng(seed)
    return habits_of(played_from(record_of(habits, rng, practice or Practice())))


def a_note(cents: float, *, sitting: int = 0, midi: int = 69, **others: object) -> PlayedNote:
    note = PlayedNote(
        sitting=sitting,
        day=FIRST_DAY + sitting,
        midi=midi,
        kind="natural",
        cents=cents,
        level_db=-22.0,
        drift_cents_per_s=0.0,
        duration_s=2.0,
        reference=False,
        blind=True,
        previous_midi=None,
    )
    return note._replace(**others)


def test_the_intervals_hold_where_the_notes_truly_lie() -> None:
    inside, error, plain = [], [], []
    for seed in range(12):
        rng = np.random.default_rng(seed)
        habits = drawn_habits(rng)
        played = played_from(record_of(habits, rng, Practice(sittings=6, days=20)))
        for note in habits_of(played).spoken:
            true = habits.usual[ALTO.index(note.midi)]
            assert note.usual is not None
            inside.append(note.usual.low <= true <= note.usual.high)
            error.append(note.usual.mean - true)
            plain.append(played.cents[played.midi == note.midi].mean() - true)
    assert 0.84 <= np.mean(inside) <= 0.96
    assert np.sqrt(np.mean(np.square(error))) < np.sqrt(np.mean(np.square(plain)))


def test_a_player_without_habits_is_told_of_hardly_any() -> None:
    claims = [
        claim
        for seed in range(8)
        for note in found_in(TrueHabits(), seed).notes
        for claim in (
            *(name in clear_contexts(note.contexts) for name in note.contexts),
            note.trend is not None and is_clear(note.trend),
        )
    ]
    assert len(claims) > 1000
    assert np.mean(claims) < 0.01


@pytest.mark.parametrize(
    ("habits", "context", "size"),
    [
        (TrueHabits(from_above=6.0), "from above", 6.0),
        (TrueHabits(after_leap=7.0), "after a leap", 7.0),
        (TrueHabits(with_reference=-8.0), "with a reference", -8.0),
        (TrueHabits(in_melodies=7.0), "in melodies", 7.0),
        (TrueHabits(louder=8.0), "louder", 8.0),
        (TrueHabits(sag=-2.5), "long", -2.5),
    ],
    ids=lambda value: str(value) if isinstance(value, str) else "",
)
def test_what_a_player_does_in_one_context_is_found_and_its_size(
    habits: TrueHabits, context: str, size: float
) -> None:
    found = found_in(habits, 3, Practice(sittings=40, days=80))
    said = clear_contexts(found.contexts)
    assert context in said
    assert said[context].mean == pytest.approx(size, abs=0.35 * abs(size))


def test_a_note_that_rises_over_the_weeks_has_a_trend_and_the_others_none() -> None:
    rises = tuple(12.0 if midi == 81 else 0.0 for midi in ALTO)
    found = found_in(TrueHabits(per_four_weeks=rises), 5)
    trends = {note.midi: note.trend for note in found.notes if note.trend}
    assert is_clear(trends[81])
    assert trends[81].mean == pytest.approx(12.0, abs=4.0)
    assert [midi for midi, trend in trends.items() if is_clear(trend)] == [81]


def test_the_weeks_of_a_note_begin_on_mondays_and_hold_all_of_its_notes() -> None:
    found = found_in(TrueHabits(), 1)
    for note in found.notes:
        assert all(week.monday.weekday() == 0 for week in note.weeks)
        assert sum(week.count for week in note.weeks) == note.count
        assert [week.monday for week in note.weeks] == sorted(week.monday for week in note.weeks)


def test_of_a_note_that_was_held_four_times_nothing_is_said() -> None:
    found = habits_of(played_from([a_note(20.0, sitting=n) for n in range(4)]))
    (note,) = found.notes
    assert (note.count, note.usual, note.spread_cents, note.trend) == (4, None, None, None)
    assert found.overall is None


def test_one_sitting_says_where_notes_lay_but_not_how_surely_they_will_again() -> None:
    one = habits_of(played_from([a_note(10.0 + 0.1 * n) for n in range(40)]))
    many = habits_of(played_from([a_note(10.0 + 0.1 * n, sitting=n) for n in range(40)]))
    assert one.notes[0].usual is not None
    assert many.notes[0].usual is not None
    width = [note.usual.high - note.usual.low for note in (one.notes[0], many.notes[0])]
    assert width[0] > 3.0 * width[1]


def test_a_few_squeaks_hardly_move_a_note() -> None:
    steady = [a_note(4.0 + 0.5 * (n % 5), sitting=n // 4) for n in range(40)]
    squeaks = [a_note(55.0, sitting=n) for n in range(3)]
    clean = habits_of(played_from(steady)).notes[0]
    squeaking = habits_of(played_from(steady + squeaks)).notes[0]
    assert clean.usual is not None
    assert squeaking.usual is not None
    assert squeaking.usual.mean == pytest.approx(clean.usual.mean, abs=0.6)


def test_careful_notes_swells_wrong_notes_and_notes_watched_on_screen_do_not_count() -> None:
    usual = [a_note(5.0, sitting=n) for n in range(6)]
    others = [
        a_note(-20.0, kind="careful"),
        a_note(-20.0, kind="swell"),
        a_note(-20.0, kind="careful-swell"),
        a_note(0.0, blind=False),
        a_note(97.0),
    ]
    assert habits_of(played_from(usual + others)).count == 6


def test_notes_without_dates_have_a_place_but_no_trend() -> None:
    found = habits_of(played_from([a_note(5.0, sitting=n, day=None) for n in range(30)]))
    (note,) = found.notes
    assert note.usual is not None
    assert (note.trend, note.weeks, found.first_day, found.last_day) == (None, (), None, None)


def test_the_order_of_the_notes_does_not_matter() -> None:
    rng = np.random.default_rng(2)
    kept = record_of(drawn_habits(rng), rng, Practice(sittings=4, days=20))
    shuffled = [kept[n] for n in rng.permutation(len(kept))]
    one, other = habits_of(played_from(kept)), habits_of(played_from(shuffled))
    assert [n.midi for n in one.notes] == [n.midi for n in other.notes]
    for note, again in zip(one.spoken, other.spoken, strict=True):
        assert note.usual is not None
        assert again.usual is not None
        assert note.usual.mean == pytest.approx(again.usual.mean)


def test_sharp_and_flat_are_treated_alike() -> None:
    rng = np.random.default_rng(4)
    kept = record_of(drawn_habits(rng, from_above=5.0), rng, Practice(sittings=8, days=40))
    turned = [note._replace(cents=-note.cents) for note in kept]
    for note, mirrored in zip(
        habits_of(played_from(kept)).spoken, habits_of(played_from(turned)).spoken, strict=True
    ):
        assert note.usual is not None
        assert mirrored.usual is not None
        assert note.usual.low == pytest.approx(-mirrored.usual.high)


def test_nothing_played_is_no_habit() -> None:
    assert habits_of(played_from([])) == Habits(contexts={})


def test_the_days_are_those_of_the_notes() -> None:
    found = habits_of(played_from([a_note(1.0, sitting=n) for n in range(9)]))
    assert found.first_day == date.fromordinal(FIRST_DAY)
    assert found.last_day == date.fromordinal(FIRST_DAY + 8)
    assert replace(found).sittings == 9


CENTS = st.floats(-1200.0, 1200.0)
NOTES = st.builds(
    PlayedNote,
    sitting=st.integers(1, 5),
    day=st.none() | st.integers(FIRST_DAY, FIRST_DAY + 60),
    midi=st.integers(65, 72),
    kind=st.sampled_from(KINDS),
    cents=CENTS,
    level_db=st.none() | st.floats(-120.0, 0.0),
    drift_cents_per_s=st.none() | CENTS,
    duration_s=st.none() | st.floats(0.0, 30.0),
    reference=st.booleans(),
    blind=st.booleans(),
    previous_midi=st.none() | st.integers(0, 127),
)


@given(st.lists(NOTES, max_size=60))
@settings(max_examples=60, deadline=None)
def test_whatever_was_kept_every_figure_is_finite_and_within_its_interval(
    kept: list[PlayedNote],
) -> None:
    found = habits_of(played_from(kept))
    intervals = [found.overall, found.trend, *found.contexts.values()]
    for note in found.notes:
        intervals += [note.usual, note.trend, *note.contexts.values()]
        intervals += [week.cents for week in note.weeks]
    for one in filter(None, intervals):
        assert np.isfinite([one.low, one.mean, one.high]).all()
        assert one.low <= one.mean <= one.high
    assert sum(note.count for note in found.notes) == found.count
