"""Difference tones lie where Tartini heard them, and magnify what is out of tune."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.pitch.cents import shifted_hz
from intonation.pitch.difference_tones import (
    difference_tone_error_cents,
    place_below,
)
from intonation.pitch.notes import equal_tempered_hz

PURE = [
    Fraction(3, 2),
    Fraction(4, 3),
    Fraction(5, 4),
    Fraction(6, 5),
    Fraction(5, 3),
    Fraction(8, 5),
]


@pytest.mark.parametrize(
    ("ratio", "place"),
    [
        (Fraction(3, 2), Fraction(1, 2)),  # the octave below the lower note
        (Fraction(4, 3), Fraction(1, 3)),  # a twelfth below it
        (Fraction(5, 4), Fraction(1, 4)),  # two octaves below it
        (Fraction(5, 3), Fraction(2, 3)),  # a fifth below it
        (Fraction(8, 5), Fraction(3, 5)),  # a major sixth below it
    ],
)
def test_a_pure_interval_sounds_tartinis_third_note(ratio: Fraction, place: Fraction) -> None:
    # G. Tartini, Trattato di musica (1754), pp. 13-14 (from memory).
    assert place_below(ratio) == place
    error = difference_tone_error_cents(600.0, 600.0 * float(ratio), ratio=ratio)
    assert error == pytest.approx(0.0, abs=1e-9)


def test_the_difference_tone_of_an_equal_tempered_third_is_two_thirds_of_a_semitone_sharp() -> None:
    lower_hz, upper_hz = (equal_tempered_hz(midi, a4_hz=440.0) for midi in (72, 76))
    error = difference_tone_error_cents(lower_hz, upper_hz, ratio=Fraction(5, 4))
    assert error == pytest.approx(67.4, abs=0.1)  # 136.00 Hz against C3, 130.81 Hz


@given(st.sampled_from(PURE), st.floats(-2.0, 2.0))
def test_a_small_error_is_heard_magnified(ratio: Fraction, cents: float) -> None:
    upper_hz = shifted_hz(500.0 * float(ratio), cents=cents)
    error = difference_tone_error_cents(500.0, upper_hz, ratio=ratio)
    # the derivative of log(f2 - f1) with respect to log(f2) is f2 / (f2 - f1)
    assert error == pytest.approx(float(ratio / (ratio - 1)) * cents, abs=0.15)
