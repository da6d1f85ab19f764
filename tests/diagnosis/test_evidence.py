"""What held notes and swells are reduced to before any model sees them."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.diagnosis.bending import bending_of
from intonation.diagnosis.evidence import evidence_from, median_of_each
from intonation.diagnosis.swell_shape import swell_shape, swell_shapes
from intonation.heldnotes.row import HeldNoteRow
from tests.support.worlds import USUAL, checked

LEVELS = np.linspace(-30.0, -22.0, 9)


def a_row(**changes: object) -> HeldNoteRow:
    base = HeldNoteRow(event=1, player="p", instrument="i", session="s", midi=70, cents=0.0)
    return replace(base, **changes)  # type: ignore[arg-type]


@given(slope=st.floats(1.0, 9.0), height=st.floats(-40.0, 40.0))
def test_a_straight_swell_gives_its_middle_and_its_slope(slope: float, height: float) -> None:
    shape = swell_shape(height + slope * (LEVELS + 26.0), LEVELS)
    assert shape.middle_cents == pytest.approx(height, abs=1e-5)
    assert shape.middle_db == pytest.approx(-26.0)
    assert shape.cents_per_db == pytest.approx(slope, abs=1e-5)


def test_a_note_that_breaks_at_the_top_keeps_its_middle() -> None:
    cents = 4.0 * (LEVELS + 26.0)
    broken = np.append(cents[:-1], 700.0)
    assert swell_shape(broken, LEVELS).middle_cents == pytest.approx(0.0, abs=0.5)
    assert swell_shape(broken, LEVELS).cents_per_db == pytest.approx(4.0, abs=0.2)


def test_a_swell_without_level_still_has_a_middle_but_no_slope() -> None:
    shape = swell_shape(4.0 * (LEVELS + 26.0), np.full(9, np.nan))
    assert shape.middle_cents == pytest.approx(0.0)
    assert shape.cents_per_db is None


def test_turning_the_gain_up_changes_no_reading() -> None:
    rows, _ = checked(3)
    louder = [replace(r, level_db=r.level_db + 68.0) for r in rows if r.level_db is not None]
    quiet, loud = evidence_from(rows), evidence_from(louder)
    assert quiet.readings.level_db == pytest.approx(loud.readings.level_db)


def test_many_swells_of_any_length_are_read_as_each_alone() -> None:
    rng = np.random.default_rng(2)
    steps = [9, 2, 7, 9, 1, 7]
    levels = [np.sort(rng.uniform(-36.0, -16.0, count)) for count in steps]
    levels[3][4] = levels[5][:] = np.nan
    cents = [4.5 * (level + 26.0) + rng.normal(size=len(level)) for level in levels]
    cents = [np.nan_to_num(each, nan=3.0) for each in cents]
    alone = [swell_shape(*swell) for swell in zip(cents, levels, strict=True)]
    assert swell_shapes(np.concatenate(cents), np.concatenate(levels), steps=steps) == alone


def test_a_swell_s_middle_lies_half_way_between_its_ends() -> None:
    for swell in evidence_from(checked(3)[0]).swells:
        shape = swell.shape
        assert shape.soft_db is not None
        assert shape.loud_db is not None
        assert shape.middle_db == pytest.approx((shape.soft_db + shape.loud_db) / 2.0, abs=0.8)


def test_all_steps_of_a_swell_say_where_its_middle_is() -> None:
    rng = np.random.default_rng(4)
    levels = LEVELS + 0.4 * rng.normal(size=(400, 9))
    middles = [swell_shape(4.5 * LEVELS, steps).middle_db for steps in levels]
    error = np.sqrt(np.mean((np.array(middles) - LEVELS.mean()) ** 2))
    by_ends = np.sqrt(np.mean(((levels.min(axis=1) + levels.max(axis=1)) / 2.0 + 26.0) ** 2))
    assert error < 0.85 * by_ends


@pytest.mark.parametrize("bow_db", [-1.0, 1.0])
def test_a_crescendo_that_grows_unevenly_keeps_the_middle_of_its_range(bow_db: float) -> None:
    place = np.linspace(-1.0, 1.0, 9)
    shape = swell_shape(4.5 * LEVELS, LEVELS + bow_db * (1.0 - place**2))
    assert shape.middle_db == pytest.approx(LEVELS.mean(), abs=0.15)


def test_squeaks_are_left_out_and_a_note_that_is_always_far_off_is_not() -> None:
    rows = [a_row(event=i, midi=60 + i % 9) for i in range(27)]
    squeak = [a_row(event=100, midi=64, cents=1150.0)]
    always = [a_row(event=200 + i, midi=75, cents=-90.0) for i in range(3)]
    evidence = evidence_from(rows + squeak + always)
    assert evidence.left_out == 1
    assert (evidence.readings.cents < -80.0).sum() == 3


def test_what_was_seen_or_matched_never_counts_as_blind() -> None:
    rows = [a_row(event=1), a_row(event=2, blind=False), a_row(event=3, reference=True)]
    assert evidence_from(rows).readings.matched.tolist() == [False, True, True]


def test_steep_swells_make_a_steep_instrument() -> None:
    steep = bending_of(evidence_from(checked(4, replace(USUAL, steepness=7.5))[0]))
    usual = bending_of(evidence_from(checked(4)[0]))
    assert steep.cents_per_db.mean() > 1.3 * usual.cents_per_db.mean()


@given(st.lists(st.tuples(st.integers(0, 3), st.floats(-50, 50)), min_size=1, max_size=40))
def test_medians_of_groups_lie_within_their_groups(pairs: list[tuple[int, float]]) -> None:
    group, values = (np.array(column) for column in zip(*pairs, strict=True))
    medians = median_of_each(group.astype(np.intp), values.astype(float), 4)
    for number in set(group.tolist()):
        assert medians[number] in values[group == number]


def test_the_order_of_the_rows_says_nothing() -> None:
    rows, _ = checked(5)
    mixed = [rows[i] for i in np.random.default_rng(5).permutation(len(rows))]
    as_played, anyhow = (evidence_from(table).swells for table in (rows, mixed))
    assert {swell.shape for swell in as_played} == {swell.shape for swell in anyhow}


@pytest.mark.parametrize("timed", [True, False])
def test_swells_that_nobody_named_are_told_apart_by_the_pause_between_them(timed: bool) -> None:
    named, _ = checked(6, passes="BB")
    rows = [replace(row, swell=None, swell_step=None) for row in named]
    rows = rows if timed else [replace(row, minutes=None, order=None) for row in rows]
    found, known = evidence_from(rows).swells, evidence_from(named).swells
    assert {swell.shape for swell in found} == {swell.shape for swell in known}


@pytest.mark.parametrize("cents", [np.nan, np.inf, -1e6])
def test_what_cannot_be_a_deviation_is_left_out(cents: float) -> None:
    rows, _ = checked(7)
    evidence = evidence_from([replace(rows[0], cents=cents), *rows[1:]])
    assert np.abs(evidence.readings.cents).max() < 1200.0
    assert evidence.left_out == 1 + evidence_from(rows[1:]).left_out


def test_what_cannot_be_a_level_a_time_or_a_temperature_is_unknown() -> None:
    odd = a_row(level_db=1e300, minutes=-1.0, temperature_c=400.0)
    readings = evidence_from([odd]).readings
    assert np.isnan([readings.minutes[0], readings.celsius[0]]).all()
    assert np.isnan(readings.level_db[0])


def test_a_table_that_was_pasted_in_twice_says_no_more_than_once() -> None:
    rows, _ = checked(8)
    again = [replace(row, event=row.event + 5000) for row in rows]
    once, twice = evidence_from(rows), evidence_from(rows + again)
    assert twice.readings.cents == pytest.approx(once.readings.cents)
    assert twice.swells == once.swells


def test_equal_tones_of_a_table_without_times_all_count() -> None:
    rows = [a_row(event=event) for event in range(3)]
    assert len(evidence_from(rows).readings) == 3


def test_notes_of_one_loudness_are_believed_where_swells_grow() -> None:
    rows, _ = checked(3)
    levels: dict[str, list[float]] = {}
    for row in rows:
        levels.setdefault(row.swell or str(row.event), []).append(row.level_db or 0.0)
    middle = {name: float(np.mean(found)) for name, found in levels.items()}
    steady = [
        replace(row, level_db=(row.level_db or 0.0) - middle[row.swell or str(row.event)])
        for row in rows
    ]
    evidence = evidence_from(steady)
    assert np.isfinite(evidence.readings.level_db).all()
    assert all(swell.shape.cents_per_db is not None for swell in evidence.swells)
