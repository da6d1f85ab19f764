"""The staircase settles where Levitt says; tuning by ear is summed up as textbooks do."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from intonation.listening.adjustment import TunedNote, adjustment_result, t_95
from intonation.listening.staircase import (
    Staircase,
    after_answer,
    settled_cents,
    share_right_where_it_settles,
)

BLUR_CENTS = 8.0


def share_right(step_cents: float) -> float:
    return 0.5 * math.erfc(-step_cents / BLUR_CENTS / math.sqrt(2.0))


@pytest.mark.parametrize(
    ("right_to_go_down", "published"), [(1, 0.5), (2, 0.707), (3, 0.794), (4, 0.841)]
)
def test_the_settling_points_are_those_of_the_published_table(
    right_to_go_down: int, published: float
) -> None:
    # H. Levitt, JASA 49 (1971) 467, Table I
    assert share_right_where_it_settles(right_to_go_down) == pytest.approx(published, abs=5e-4)


def test_two_down_one_up_settles_on_70_7_per_cent() -> None:
    # H. Levitt, JASA 49 (1971) 467; small steps, since coarse ones settle a little elsewhere
    rng = np.random.default_rng(30)
    settled = []
    for _ in range(30):
        stairs = Staircase(step_cents=6.0, finer_factor=1.1)
        for _ in range(600):
            stairs = after_answer(stairs, right=bool(rng.random() < share_right(stairs.step_cents)))
        found = settled_cents(stairs)
        assert found is not None
        settled.append(math.log(found))
    assert share_right(math.exp(float(np.mean(settled)))) == pytest.approx(0.707, abs=0.02)


def test_two_right_answers_make_it_harder_and_one_wrong_answer_easier() -> None:
    stairs = Staircase(step_cents=20.0)
    stairs = after_answer(stairs, right=True)
    assert stairs.step_cents == 20.0
    stairs = after_answer(stairs, right=True)
    assert stairs.step_cents == 10.0
    stairs = after_answer(stairs, right=False)
    assert stairs.step_cents == 20.0
    assert stairs.reversals_cents == (10.0,)


def test_a_staircase_that_has_hardly_turned_has_not_settled() -> None:
    stairs = Staircase(step_cents=20.0)
    for right in (True, True, False, True, True, False):
        stairs = after_answer(stairs, right=right)
    assert settled_cents(stairs) is None


@given(st.lists(st.booleans(), max_size=80))
def test_the_step_stays_within_its_bounds(answers: list[bool]) -> None:
    stairs = Staircase(step_cents=20.0)
    for right in answers:
        stairs = after_answer(stairs, right=right)
        assert 0.5 <= stairs.step_cents <= 50.0


@pytest.mark.parametrize("degrees", [1, 2, 5, 12, 20, 21, 30, 60, 200])
def test_students_t_agrees_with_scipy(degrees: int) -> None:
    assert t_95(degrees) == pytest.approx(stats.t.ppf(0.95, degrees), abs=2e-3)


def test_the_intervals_agree_with_a_statistics_library() -> None:
    final = [3.0, -1.5, 4.0, 2.5, 0.5, 1.0, 5.5, -0.5]
    found = adjustment_result([TunedNote(start_cents=20.0, final_cents=each) for each in final])
    assert found is not None
    low, high = stats.t.interval(0.9, 7, loc=np.mean(final), scale=stats.sem(final))
    assert (found.constant_cents.low, found.constant_cents.high) == pytest.approx(
        (low, high), abs=1e-2
    )
    sd = np.std(final, ddof=1)
    bounds = [sd * math.sqrt(7 / stats.chi2.ppf(p, 7)) for p in (0.95, 0.05)]
    spread = found.variable_cents
    assert (spread.low, spread.high) == pytest.approx(bounds, rel=0.01)
    assert found.rms_cents == pytest.approx(math.sqrt(np.mean(np.square(final))))


def test_stopping_short_of_the_middle_from_either_side_shows() -> None:
    notes = [
        TunedNote(start_cents=30.0, final_cents=6.0),
        TunedNote(start_cents=-30.0, final_cents=-2.0),
    ]
    found = adjustment_result(notes * 3)
    assert found is not None
    assert found.drag_cents == pytest.approx(4.0)
    assert found.constant_cents.value == pytest.approx(2.0)


def test_two_settings_are_too_few() -> None:
    assert adjustment_result([TunedNote(start_cents=9.0, final_cents=1.0)] * 2) is None
