"""Ear, breath or instrument, when a reference sounds."""

from statistics import NormalDist

import numpy as np
import pytest

from intonation.diagnosis.parts import Interval
from intonation.diagnosis.three_way import Hearing, MatchedNote, ThreeWay, three_way

SHARP_EAR = Hearing(bias_cents=0.0, bias_sd_cents=1.0, log_blur=np.log(2.0), log_blur_sd=0.3)
STEADY, UNSTEADY = Interval(1.5, 1.0, 2.0), Interval(12.0, 10.0, 14.0)


def notes(*cents: float, low: float = -25.0, high: float = 25.0) -> list[MatchedNote]:
    return [MatchedNote(cents=c, low_cents=low, high_cents=high) for c in cents]


def told(matched: list[MatchedNote], hearing: Hearing, motor: Interval) -> ThreeWay:
    found = three_way(matched, hearing=hearing, motor_cents=motor)
    assert found is not None
    return found


def largest(found: ThreeWay) -> str:
    return max(found.largest, key=lambda lever: found.largest[lever])


def test_each_lever_has_its_plain_case() -> None:
    misheard = Hearing(bias_cents=14.0, bias_sd_cents=2.0, log_blur=np.log(6.0), log_blur_sd=0.3)
    assert largest(told(notes(13.0, 15.0, 12.0, 16.0), misheard, STEADY)) == "ear"
    assert largest(told(notes(-9.0, 12.0, -3.0, 8.0), SHARP_EAR, UNSTEADY)) == "breath"
    stuck = notes(-20.0, -19.0, -21.0, -20.0, low=-50.0, high=-20.0)
    assert largest(told(stuck, SHARP_EAR, STEADY)) == "instrument"


def test_without_listening_or_matched_notes_nothing_is_said() -> None:
    assert three_way(notes(1.0, 2.0, 3.0, 4.0), hearing=None, motor_cents=STEADY) is None
    assert three_way(notes(1.0, 2.0), hearing=SHARP_EAR, motor_cents=STEADY) is None


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [(-25.0, 25.0, 0.0), (-40.0, -20.0, 20.0), (12.0, 40.0, 12.0), (-np.inf, np.inf, 0.0)],
)
def test_a_reference_out_of_reach_is_so_far_from_the_nearer_end_of_the_swell(
    low: float, high: float, expected: float
) -> None:
    # By hand: nothing inside the range, else the distance to its nearer end.
    reached = np.clip(0.0, low, high)
    found = told(notes(*[float(reached)] * 6, low=low, high=high), SHARP_EAR, STEADY)
    assert found.instrument.mean == pytest.approx(expected, abs=1.0)
    assert found.instrument.low <= expected <= found.instrument.high


def test_how_far_a_swell_reaches_is_not_known_to_the_cent() -> None:
    found = told(notes(*[-1.0] * 6, low=-30.0, high=-1.0), SHARP_EAR, STEADY)
    assert found.instrument.high - found.instrument.low > 1.0


@pytest.mark.parametrize(("bias", "blur"), [(0.0, 9.0), (8.0, 6.0), (-12.0, 4.0)])
def test_many_steady_notes_show_the_ear_as_bias_and_blur_together(bias: float, blur: float) -> None:
    # By hand: notes spread as a normal distribution about the bias; what is not breath is ear, and
    # bias and blur add as squares.
    quantiles = [NormalDist(bias, blur).inv_cdf((i + 0.5) / 60) for i in range(60)]
    hearing = Hearing(bias_cents=bias, bias_sd_cents=1.0, log_blur=np.log(9.0), log_blur_sd=0.6)
    found = told(notes(*quantiles), hearing, Interval(0.5, 0.4, 0.6))
    assert found.ear.mean == pytest.approx(np.hypot(bias, blur), rel=0.12)
    assert largest(found) == "ear"


def test_one_slip_does_not_make_an_ear() -> None:
    steady = notes(0.5, -0.5, 1.0, -1.0, 0.0, 0.7, -0.7)
    slipped = [*steady, *notes(60.0)]
    without, with_one = (told(m, SHARP_EAR, STEADY).ear for m in (steady, slipped))
    assert with_one.mean < without.mean + 1.5


def test_the_same_question_gets_the_same_answer() -> None:
    asked = notes(1.0, -2.0, 3.0, 0.0)
    assert told(asked, SHARP_EAR, STEADY) == told(asked, SHARP_EAR, STEADY)
