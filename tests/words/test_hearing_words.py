"""Results of the ear drills are sentences that a player can use, with sources and no grades."""

import numpy as np
import pytest

from intonation.listening.adjustment import TunedNote, adjustment_result
from intonation.listening.drill import drills
from intonation.listening.estimate import EarEstimate, Likely
from intonation.listening.limens import trained_limen
from intonation.listening.questions import LOG_BLUR
from intonation.listening.trials import Answer, Condition
from intonation.words.hearing import (
    QUESTIONS,
    answer_in_words,
    estimate_in_words,
    framed,
    tuned_in_words,
)
from tests.support.ears import ALTO_EAR, FALLING_FOURTH

FIFTH = Condition(drill="which way", interval="fifth", register="high")
GRADES = ("excellent", "good", "poor", "bad", "weak", "average", "grade", "score")


def an_estimate(
    blur: tuple[float, float, float],
    *,
    bias: tuple[float, float, float] | None = None,
    standing: str = "measured",
) -> EarEstimate:
    return EarEstimate(
        answers=30,
        standing=standing,  # type: ignore[arg-type]
        blur_cents=Likely(*blur),
        bias_cents=Likely(*bias) if bias else None,
        log_blur=1.0,
        log_blur_sd=0.3,
        guessing=0.0,
        evidence=np.ones(LOG_BLUR.size),
    )


def test_a_result_names_threshold_interval_answers_and_bias() -> None:
    words = estimate_in_words(FIFTH, an_estimate((10.0, 7.0, 15.0), bias=(-6.0, -9.0, -3.0)))
    assert "threshold 6.7 cents (4.7 to 10.1)" in words
    assert "75 %" in words
    assert "d′ = 1 at 10.0" in words
    assert "30 answers" in words
    assert "A tone 6.0 cents (3.0 to 9.0) flat sounds in tune to you." in words


def test_a_bias_that_may_be_none_is_not_claimed() -> None:
    words = estimate_in_words(FIFTH, an_estimate((10.0, 7.0, 15.0), bias=(2.0, -1.0, 5.0)))
    assert "No side is preferred." in words


def test_a_guessing_listener_reads_could_not_be_measured_and_what_to_do() -> None:
    guessing = an_estimate((60.0, 20.0, 110.0), standing="could not be measured")
    words = estimate_in_words(FIFTH, guessing)
    assert "could not be measured" in words
    assert "Rest" in words
    assert framed(guessing, task="over a drone", hz=700.0) == ()


@pytest.mark.parametrize("blur", [(2.0, 1.2, 3.0), (15.0, 10.0, 22.0), (80.0, 70.0, 90.0)])
def test_published_limens_frame_a_result_with_their_source_and_without_a_grade(
    blur: tuple[float, float, float],
) -> None:
    lines = framed(an_estimate(blur), task="tone after tone", hz=528.0)
    assert len(lines) >= 3
    for line in lines:
        assert "(19" in line or "(20" in line
        assert not any(word in line.lower().split() for word in GRADES)


def test_finer_is_said_only_when_the_whole_interval_is_finer() -> None:
    fine = framed(an_estimate((12.0, 8.0, 18.0)), task="tone after tone", hz=528.0)
    assert any(line.startswith("Finer than most untrained listeners") for line in fine)
    assert any(line.startswith("Much like musicians") for line in fine)


def test_someone_above_every_limen_reads_that_it_can_be_trained() -> None:
    lines = framed(an_estimate((80.0, 70.0, 90.0)), task="tone after tone", hz=528.0)
    assert "within four to eight hours" in lines[-1]


@pytest.mark.parametrize(
    ("hz", "published_cents"), [(200.0, 5.9), (500.0, 3.9), (1000.0, 3.4), (4000.0, 5.6)]
)
def test_the_trained_limen_follows_the_published_formula(hz: float, published_cents: float) -> None:
    # C. C. Wier et al., JASA 61 (1977) 178: 0.68 Hz at 200 Hz, 1.95 Hz at 1 kHz (from memory)
    assert trained_limen(hz).lowest_cents == pytest.approx(published_cents, abs=0.06)


def test_after_an_answer_the_beats_and_the_deviation_are_told() -> None:
    rng = np.random.default_rng(80)
    every = drills(ALTO_EAR, tunes=(FALLING_FOURTH,))
    drill = every["which way"]
    trial = drill.trial(drill.conditions()[0], -8.0, rng)
    wrong = answer_in_words(Answer(trial=trial, choice="sharp"))
    assert wrong.startswith("It was flat: by 8.0 cents. It beat ")
    assert answer_in_words(Answer(trial=trial, choice="flat")).startswith("Right: 8.0 cents flat.")
    tartini = every["difference tone"]
    trial = tartini.trial(tartini.conditions()[0], 5.0, rng)
    told = answer_in_words(Answer(trial=trial, choice="1"))
    assert "another was" in told  # the versions cannot be taken for each other
    assert "difference tone was 15" in told


def test_every_drill_has_its_question_in_words() -> None:
    names = {*drills(ALTO_EAR, tunes=(FALLING_FOURTH,)), "tune it"}
    assert names == set(QUESTIONS)


def test_tuning_by_ear_is_summed_up_with_its_interval_and_drag() -> None:
    notes = [
        TunedNote(start_cents=start, final_cents=final)
        for start, final in ((30.0, 7.0), (-30.0, 1.0), (25.0, 6.0), (-20.0, 2.0))
    ]
    words = tuned_in_words(FIFTH, adjustment_result(notes))
    assert words.startswith("fifth, high register: 4.0 cents sharp on average (")
    assert "From either side you stop 2.5 cents short of the middle." in words
    assert "too few" in tuned_in_words(FIFTH, None)
