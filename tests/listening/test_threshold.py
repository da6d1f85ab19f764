"""The adaptive threshold finds out how fine an ear is, and says when it cannot."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.listening.normal import normal_share
from intonation.listening.prior import UNKNOWN_LISTENER, Prior, prior_from
from intonation.listening.questions import LAPSES, LOG_BLUR, right_or_wrong, sharp_or_flat
from intonation.listening.simulated_listener import SimulatedListener
from intonation.listening.threshold import (
    belief_after,
    belief_before,
    estimate,
    guessing_probability,
    next_deviation_cents,
)
from tests.support.ears import sharp_or_flat_results


def some_listeners(
    count: int, rng: np.random.Generator, *, lapses: float
) -> list[SimulatedListener]:
    """Thresholds from 1 to 40 cents, evenly on a logarithmic scale, and a bias of 4 cents rms."""
    return [
        SimulatedListener(
            threshold_cents=math.exp(rng.uniform(0.0, math.log(40.0))),
            bias_cents=float(rng.normal(0.0, 4.0)),
            lapses=lapses,
        )
        for _ in range(count)
    ]


def test_the_normal_distribution_agrees_with_the_error_function() -> None:
    z = np.linspace(-9.0, 9.0, 1009)
    exact = [0.5 * math.erfc(-each / math.sqrt(2.0)) for each in z]
    assert normal_share(z) == pytest.approx(exact, abs=1e-6)


def test_sixty_answers_tell_threshold_and_bias_with_honest_intervals() -> None:
    # a few listeners, with room for chance; tests/benchmarks/listening_accuracy.py has thousands
    rng = np.random.default_rng(20)
    errors, biases, covered = [], [], []
    for listener in some_listeners(14, rng, lapses=0.05):
        found = sharp_or_flat_results(listener, after=(60,), rng=rng)[60]
        errors.append(found.log_blur - math.log(listener.blur_cents))
        assert found.bias_cents is not None
        biases.append(found.bias_cents.value - listener.bias_cents)
        covered.append(found.blur_cents.low <= listener.blur_cents <= found.blur_cents.high)
    assert np.sqrt(np.mean(np.square(errors))) < 0.40
    assert np.sqrt(np.mean(np.square(biases))) < 4.5
    assert np.mean(covered) > 0.7


def test_a_further_interval_needs_only_a_dozen_answers() -> None:
    rng = np.random.default_rng(21)
    listener = SimulatedListener(threshold_cents=3.0)
    others = [
        sharp_or_flat_results(another_interval(listener, rng), after=(25,), rng=rng)[25]
        for _ in range(3)
    ]
    alone: list[float] = []
    helped: list[float] = []
    for _ in range(10):
        further = another_interval(listener, rng)
        for errors, prior in ((alone, UNKNOWN_LISTENER), (helped, prior_from(others))):
            found = sharp_or_flat_results(further, after=(12,), rng=rng, prior=prior)[12]
            errors.append(found.log_blur - math.log(further.blur_cents))
    assert np.sqrt(np.mean(np.square(helped))) < 0.6
    assert np.sqrt(np.mean(np.square(helped))) < 0.9 * np.sqrt(np.mean(np.square(alone)))


def another_interval(listener: SimulatedListener, rng: np.random.Generator) -> SimulatedListener:
    """The same ear with another interval: finer or coarser by a factor of about 1.4."""
    return SimulatedListener(
        threshold_cents=listener.threshold_cents * math.exp(rng.normal(0.0, 0.35)),
        bias_cents=float(rng.normal(0.0, 4.0)),
        lapses=listener.lapses,
    )


def told(question: str, outcomes: list[bool], rng: np.random.Generator) -> str:
    belief = belief_before(sharp_or_flat() if question == "signed" else right_or_wrong(2))
    for first in outcomes:
        cents = next_deviation_cents(belief, rng)
        belief = belief_after(belief, deviation_cents=cents, first=first)
    return estimate(belief).standing


@pytest.mark.parametrize("question", ["signed", "one right answer"])
def test_a_guessing_listener_is_told_that_nothing_could_be_measured(question: str) -> None:
    rng = np.random.default_rng(22)
    standings = [
        told(question, [bool(rng.random() < 0.5) for _ in range(40)], rng) for _ in range(8)
    ]
    assert standings.count("could not be measured") >= 6


def test_always_the_same_answer_cannot_be_measured_either() -> None:
    assert told("signed", [True] * 30, np.random.default_rng(23)) == "could not be measured"


def test_a_listener_who_listens_is_hardly_ever_taken_for_a_guesser() -> None:
    rng = np.random.default_rng(24)
    listeners = some_listeners(12, rng, lapses=0.08)
    found = [sharp_or_flat_results(each, after=(40,), rng=rng)[40] for each in listeners]
    assert sum(each.standing == "measured" for each in found) >= 11


def test_an_ear_as_coarse_as_forty_cents_is_measured_and_not_taken_for_a_guesser() -> None:
    rng = np.random.default_rng(29)
    listener = SimulatedListener(threshold_cents=40.0, lapses=0.08)
    found = [sharp_or_flat_results(listener, after=(60,), rng=rng)[60] for _ in range(40)]
    assert sum(each.standing == "measured" for each in found) >= 35


def test_as_long_as_answers_may_be_guesses_the_easiest_question_is_asked() -> None:
    # a quarter-tone, which even a coarse ear hears: being wrong there is what gives guesses away
    rng = np.random.default_rng(30)
    belief = belief_before(sharp_or_flat())
    for cents in (30.0, -30.0) * 5:  # always the same answer: half of them wrong
        belief = belief_after(belief, deviation_cents=cents, first=True)
    sides = {next_deviation_cents(belief, rng) for _ in range(20)}
    assert sides == {-50.0, 50.0}


def test_several_intervals_of_a_fine_ear_do_not_make_the_next_one_seem_coarse() -> None:
    # each estimate is drawn up from the edge of what is possible; together they must not be
    rng = np.random.default_rng(31)
    listener = SimulatedListener(threshold_cents=1.2, lapses=0.05)
    others = [sharp_or_flat_results(listener, after=(25,), rng=rng)[25] for _ in range(6)]
    prior = prior_from(others)
    assert prior.log_blur < np.mean([each.log_blur for each in others])
    assert abs(prior.log_blur - math.log(listener.blur_cents)) < prior.log_blur_sd


def test_few_answers_give_no_number_that_could_be_trusted() -> None:
    listener = SimulatedListener(threshold_cents=5.0)
    found = sharp_or_flat_results(listener, after=(5,), rng=np.random.default_rng(25))[5]
    assert found.standing == "too few answers"


def test_the_thresholds_named_are_those_of_a_cumulative_normal() -> None:
    # three of four right at 0.674 standard deviations, d' = 1 at one (common practice)
    listener = SimulatedListener(threshold_cents=5.0)
    found = sharp_or_flat_results(listener, after=(20,), rng=np.random.default_rng(26))[20]
    share = normal_share(found.threshold_cents.value / found.dprime_one_cents.value)
    assert share == pytest.approx(0.75, abs=1e-5)


@given(
    cents=st.lists(st.sampled_from((-30.0, -8.0, -2.5, 0.5, 4.0, 20.0)), max_size=12),
    seed=st.integers(0, 99),
)
@settings(max_examples=25, deadline=None)
def test_the_order_of_answers_does_not_matter(cents: list[float], seed: int) -> None:
    rng = np.random.default_rng(seed)
    answers = [(each, bool(rng.random() < 0.5)) for each in cents]
    results = []
    for ordered in (answers, answers[::-1]):
        belief = belief_before(sharp_or_flat())
        for each, first in ordered:
            belief = belief_after(belief, deviation_cents=each, first=first)
        results.append(estimate(belief))
    assert results[0].log_blur == pytest.approx(results[1].log_blur)
    assert results[0].guessing == pytest.approx(results[1].guessing)


@given(size=st.floats(1.0, 40.0), bias=st.floats(-10.0, 10.0))
@settings(max_examples=25, deadline=None)
def test_sharp_and_flat_are_treated_alike(size: float, bias: float) -> None:
    # turn every deviation and answer round: the threshold stays, the bias changes its sign
    found = []
    for side in (1.0, -1.0):
        belief = belief_before(sharp_or_flat())
        for cents in (size, -size, size / 2, -size / 2, bias, bias / 3):
            heard_sharp = cents > bias
            belief = belief_after(
                belief, deviation_cents=side * cents, first=heard_sharp == (side > 0)
            )
        found.append(estimate(belief))
    assert found[0].log_blur == pytest.approx(found[1].log_blur, abs=1e-6)
    assert found[0].bias_cents is not None
    assert found[1].bias_cents is not None
    assert found[0].bias_cents.value == pytest.approx(-found[1].bias_cents.value, abs=1e-6)


def test_the_posterior_agrees_with_a_sum_over_every_listener_written_out() -> None:
    # Bayes' theorem by the book, for three answers, one listener after the other
    question = sharp_or_flat()
    answers = ((10.0, True), (-4.0, False), (3.0, False))
    belief = belief_before(question)
    for cents, first in answers:
        belief = belief_after(belief, deviation_cents=cents, first=first)
    total, mean = 0.0, 0.0
    beforehand = dict(zip(LOG_BLUR, UNKNOWN_LISTENER.blurs, strict=True))
    for bias in question.bias_cents:
        for log_blur in question.log_blur:
            for lapse in LAPSES:
                weight = math.exp(-0.5 * (bias / 5.0) ** 2) * beforehand[log_blur]
                for cents, first in answers:
                    z = (cents - bias) / math.exp(log_blur)
                    share = lapse / 2 + (1 - lapse) * 0.5 * math.erfc(-z / math.sqrt(2.0))
                    weight *= share if first else 1 - share
                total += weight
                mean += weight * log_blur
    assert estimate(belief).log_blur == pytest.approx(mean / total, abs=1e-5)


def test_the_listening_and_the_guessing_account_are_weighed_as_in_a_worked_case() -> None:
    # after one answer either account gives it probability 1/2, so nothing has been learned of it
    belief = belief_after(belief_before(sharp_or_flat()), deviation_cents=10.0, first=True)
    mirrored = belief_after(belief_before(sharp_or_flat()), deviation_cents=-10.0, first=True)
    assert guessing_probability(belief) < 0.12 < guessing_probability(mirrored)


def test_an_unknown_ear_may_be_as_fine_as_one_cent_or_as_coarse_as_forty() -> None:
    # musicians to non-musicians, with room: C. Micheyl et al., Hear. Res. 219 (2006) 36
    thresholds_cents = 0.6745 * np.exp(LOG_BLUR)
    usual = (thresholds_cents > 0.99) & (thresholds_cents < 41.0)
    assert np.ptp(UNKNOWN_LISTENER.blurs[usual]) < 1e-12
    assert UNKNOWN_LISTENER.blurs[usual].sum() > 0.9


def test_the_interval_of_a_very_fine_ear_begins_at_what_is_possible() -> None:
    # one with equal tails would leave out the finest ears, and so miss on one side only
    belief = belief_before(sharp_or_flat())
    for number in range(40):
        cents = (2.0, -2.0, 3.0, -3.0)[number % 4]
        belief = belief_after(belief, deviation_cents=cents, first=cents > 0)
    found = estimate(belief).threshold_cents
    assert found.low < 1.0
    assert found.high < 3.0


def test_the_same_interval_goes_on_where_it_stopped_with_a_little_more_doubt() -> None:
    listener = SimulatedListener(threshold_cents=6.0, bias_cents=-5.0)
    before = sharp_or_flat_results(listener, after=(60,), rng=np.random.default_rng(27))[60]
    prior = prior_from([], before=before)
    assert prior.log_blur == pytest.approx(before.log_blur, abs=0.05)
    assert before.log_blur_sd < prior.log_blur_sd < UNKNOWN_LISTENER.log_blur_sd
    assert prior.bias_cents == pytest.approx(-5.0, abs=3.0)


def test_results_that_could_not_be_measured_teach_nothing() -> None:
    rng = np.random.default_rng(28)
    belief = belief_before(sharp_or_flat())
    for _ in range(45):
        cents = next_deviation_cents(belief, rng)
        belief = belief_after(belief, deviation_cents=cents, first=bool(rng.random() < 0.5))
    assert estimate(belief).standing == "could not be measured"
    assert prior_from([estimate(belief)]) is UNKNOWN_LISTENER
    assert prior_from([], before=estimate(belief)) is UNKNOWN_LISTENER
    assert isinstance(prior_from([]), Prior)


def test_after_a_mistake_too_nobody_can_foresee_on_which_side_the_next_tone_lies() -> None:
    repeated = []
    for seed in range(30):
        rng, belief, sides = np.random.default_rng(seed), belief_before(sharp_or_flat()), []
        for number in range(14):
            cents = next_deviation_cents(belief, rng)
            heard_sharp = (cents > 0.0) == (number > 0)
            belief = belief_after(belief, deviation_cents=cents, first=heard_sharp)
            sides.append(cents > 0.0)
        repeated += [one == other for one, other in pairwise(sides)]
    assert 0.4 < np.mean(repeated) < 0.6
