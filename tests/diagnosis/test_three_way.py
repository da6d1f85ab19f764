"""Ear, breath or instrument, when a reference sounds."""

import numpy as np
import pytest

from intonation.diagnosis.parts import Interval
from intonation.diagnosis.three_way import Hearing, MatchedNote, reach_cents, three_way

SHARP_EAR = Hearing(bias_cents=0.0, bias_sd_cents=1.0, log_blur=np.log(2.0), log_blur_sd=0.3)
STEADY, UNSTEADY = Interval(1.5, 1.0, 2.0), Interval(12.0, 10.0, 14.0)


def notes(*cents: float, reach: float = 0.0) -> list[MatchedNote]:
    return [MatchedNote(cents=c, reach_cents=reach) for c in cents]


def largest(matched: list[MatchedNote], hearing: Hearing, motor: Interval) -> str:
    found = three_way(matched, hearing=hearing, motor_cents=motor)
    assert found is not None
    return max(found.largest, key=lambda lever: found.largest[lever])


def test_each_lever_has_its_plain_case() -> None:
    misheard = Hearing(bias_cents=14.0, bias_sd_cents=2.0, log_blur=np.log(6.0), log_blur_sd=0.3)
    assert largest(notes(13.0, 15.0, 12.0, 16.0), misheard, STEADY) == "ear"
    assert largest(notes(-9.0, 12.0, -3.0, 8.0), SHARP_EAR, UNSTEADY) == "breath"
    stuck = notes(-20.0, -19.0, -21.0, -20.0, reach=-20.0)
    assert largest(stuck, SHARP_EAR, STEADY) == "instrument"


def test_without_listening_or_matched_notes_nothing_is_said() -> None:
    assert three_way(notes(1.0, 2.0, 3.0, 4.0), hearing=None, motor_cents=STEADY) is None
    assert three_way(notes(1.0, 2.0), hearing=SHARP_EAR, motor_cents=STEADY) is None


@pytest.mark.parametrize(
    ("target", "expected"), [(0.0, 0.0), (-15.0, 0.0), (20.0, -5.0), (-30.0, 10.0)]
)
def test_a_reference_is_out_of_reach_beyond_the_ends_of_the_swell(
    target: float, expected: float
) -> None:
    assert reach_cents(target_cents=target, soft_cents=-20.0, loud_cents=15.0) == expected


def test_the_same_question_gets_the_same_answer() -> None:
    asked = notes(1.0, -2.0, 3.0, 0.0)
    first = three_way(asked, hearing=SHARP_EAR, motor_cents=STEADY)
    assert first == three_way(asked, hearing=SHARP_EAR, motor_cents=STEADY)
