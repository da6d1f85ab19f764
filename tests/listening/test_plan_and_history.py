"""What to practise next is due, weak or new; days build on each other."""

import math
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.listening.adjustment import TunedNote
from intonation.listening.block import Block
from intonation.listening.drill import drills
from intonation.listening.drills.which_in_tune import WhichIsInTune
from intonation.listening.history import (
    KeptAnswer,
    KeptTuning,
    day_results,
    day_tunings,
    kept,
    latest_estimates,
    practised,
    prior_for,
)
from intonation.listening.plan import GAPS_DAYS, Practised, due_on, gap_reached, next_conditions
from intonation.listening.prior import UNKNOWN_LISTENER
from intonation.listening.simulated_listener import SimulatedListener
from intonation.listening.trials import Condition
from tests.support.ears import ALTO_EAR, played

START = date(2031, 3, 14)
MORNING = datetime(2031, 3, 14, 9, 0, tzinfo=UTC)


def days(*after: int) -> tuple[date, ...]:
    return tuple(START + timedelta(days=each) for each in after)


def with_blur(cents: float, practised_on: tuple[date, ...]) -> Practised:
    return Practised(days=practised_on, blur_cents=cents)


def test_practice_on_time_is_spaced_by_1_3_7_and_16_days() -> None:
    # N. J. Cepeda et al., Psychol. Sci. 19 (2008) 1095: growing gaps (from memory)
    on_time = days(0, 1, 4, 11, 27)
    gaps = [(due_on(on_time[:n]) - on_time[n - 1]).days for n in range(1, 6)]
    assert gaps == [1, 3, 7, 16, 35]


def test_practising_again_too_soon_neither_speeds_up_nor_delays_the_next_time() -> None:
    assert due_on(days(0, 1)) == due_on(days(0, 1, 2, 3)) == START + timedelta(days=4)


def test_coming_far_too_late_goes_one_gap_back() -> None:
    assert gap_reached(days(0, 1, 4)) == 2
    assert gap_reached(days(0, 1, 4, 40)) == 1


@given(st.lists(st.integers(0, 400), min_size=1, max_size=12, unique=True))
def test_the_next_time_always_lies_ahead_of_the_last_that_counted(after: list[int]) -> None:
    practised_on = days(*sorted(after))
    assert 0 <= gap_reached(practised_on) < len(GAPS_DAYS)
    assert due_on(practised_on) > practised_on[0]


def test_what_is_due_comes_first_the_weakest_of_it_before_the_rest_then_new_ones() -> None:
    offered = tuple(Condition(drill="which way", interval=name) for name in "abcdef")
    known = {
        offered[0]: with_blur(3.0, days(0)),
        offered[1]: with_blur(20.0, days(0)),
        offered[2]: with_blur(9.0, days(5)),
    }
    chosen = next_conditions(offered, known, today=START + timedelta(days=5))
    assert [each.interval for each in chosen] == ["b", "a", "d", "e"]


def test_there_is_always_something_to_practise() -> None:
    only = Condition(drill="which way", interval="fifth")
    known = {only: with_blur(5.0, days(0))}
    assert next_conditions((only,), known, today=START) == (only,)
    assert next_conditions((only,), {}, today=START) == (only,)


def a_day_of_answers(
    day: int, rng: np.random.Generator, *, drill: str = "which way"
) -> list[KeptAnswer]:
    maker = drills(ALTO_EAR)[drill]
    block = Block(maker, maker.conditions()[:2], rng=rng)
    result = played(block, SimulatedListener(threshold_cents=7.0, bias_cents=3.0), rng)
    began = MORNING + timedelta(days=day)
    return [
        kept(answer, answered_at=began + timedelta(seconds=5 * number))
        for number, answer in enumerate(result.answers)
    ]


@pytest.mark.parametrize("drill", ["which way", "which is in tune", "find the culprit"])
def test_answers_read_back_give_the_estimates_of_the_block_itself(drill: str) -> None:
    rng = np.random.default_rng(71)
    maker = drills(ALTO_EAR)[drill]
    only = maker.conditions()[:1]
    block = Block(maker, only, rng=rng)
    result = played(block, SimulatedListener(threshold_cents=7.0), rng)
    read_back = day_results([kept(answer, answered_at=MORNING) for answer in result.answers])
    assert len(read_back) == 1
    assert read_back[0].estimate == result.estimates[only[0]]


def test_more_days_narrow_the_interval_and_the_plan_sees_every_day() -> None:
    rng = np.random.default_rng(72)
    answers = [*a_day_of_answers(0, rng), *a_day_of_answers(1, rng), *a_day_of_answers(4, rng)]
    results = day_results(answers)
    first, last = results[0].estimate, results[-1].estimate
    assert last.log_blur_sd < first.log_blur_sd
    for result in results[-2:]:
        error = math.log(result.estimate.threshold_cents.value / 7.0)
        assert abs(error) < 3.0 * result.estimate.log_blur_sd
    known = practised(results)
    assert {each.days for each in known.values()} == {days(0, 1, 4)}


def test_a_new_interval_begins_with_what_others_of_the_same_drill_have_told() -> None:
    rng = np.random.default_rng(73)
    latest = latest_estimates(day_results(a_day_of_answers(0, rng)))
    further = prior_for(Condition(drill="which way", interval="fifth"), latest)
    assert further.log_blur_sd < UNKNOWN_LISTENER.log_blur_sd
    assert prior_for(Condition(drill="remember"), latest) == UNKNOWN_LISTENER


def test_a_day_with_two_and_three_versions_of_an_interval_counts_both() -> None:
    rng = np.random.default_rng(74)
    answers = []
    for number, versions in enumerate((2, 3)):
        drill = WhichIsInTune(ALTO_EAR, versions=versions)
        block = Block(drill, drill.conditions()[:1], rng=rng, length_s=360.0)
        result = played(block, SimulatedListener(threshold_cents=9.0), rng)
        at = MORNING + timedelta(minutes=number)
        answers += [kept(answer, answered_at=at) for answer in result.answers]
    (found,) = day_results(answers)
    assert found.estimate.answers == len(answers)
    assert found.estimate.threshold_cents.low < 9.0 < found.estimate.threshold_cents.high


def test_notes_tuned_by_ear_count_for_the_plan_day_by_day() -> None:
    octave = Condition(drill="tune it", interval="octave")
    finals_cents = ((0, (6.0, -6.0, 6.0)), (1, (3.0, 4.0)), (4, (1.0, -1.0, 1.0)))
    tuned = [
        KeptTuning(
            condition=octave,
            tuned_at=MORNING + timedelta(days=day, seconds=number),
            note=TunedNote(start_cents=20.0, final_cents=cents),
        )
        for day, finals in finals_cents
        for number, cents in enumerate(finals)
    ]
    tunings = day_tunings(tuned)
    assert [each.rms_cents for each in tunings] == pytest.approx([6.0, 12.5**0.5, 1.0])
    assert [each.result is None for each in tunings] == [False, True, False]  # two are too few
    known = practised((), tunings)
    assert known[octave] == Practised(days=days(0, 1, 4), blur_cents=1.0)
    assert due_on(known[octave].days) == START + timedelta(days=11)
