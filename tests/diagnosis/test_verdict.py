"""Who is blamed when, and how sure one must be."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.diagnosis.chance import even_pairs
from intonation.diagnosis.verdict import (
    ANSWERS,
    Probabilities,
    classified,
    probabilities,
    verdict_of,
)

parts = st.floats(-40.0, 40.0)


def answer(instrument: float, player: float) -> str:
    index = classified(np.array(instrument), np.array(player), tolerance_cents=8.0)
    return ANSWERS[int(index)]


def test_each_answer_has_its_plain_case() -> None:
    assert answer(3.0, 2.0) == "in tune"
    assert answer(14.0, 1.0) == "instrument"
    assert answer(-1.0, -14.0) == "player"
    assert answer(12.0, 12.0) == "both"
    assert answer(20.0, -15.0) == "in tune"


@given(parts, parts)
def test_sharp_and_flat_are_judged_alike(instrument: float, player: float) -> None:
    if instrument + player != 0.0:
        assert answer(instrument, player) == answer(-instrument, -player)


@given(parts, parts)
def test_swapping_the_parts_swaps_the_blame(instrument: float, player: float) -> None:
    swapped = {"instrument": "player", "player": "instrument"}
    found = answer(instrument, player)
    assert answer(player, instrument) == swapped.get(found, found)


@given(parts, parts, st.floats(0.1, 15.0))
def test_probabilities_add_up(instrument: float, player: float, sd: float) -> None:
    mean, covariance = np.array([instrument, player]), sd**2 * np.eye(2)
    chances = probabilities([(0.4, mean, covariance), (0.6, mean, covariance)])
    assert sum(chances.of(name) for name in ANSWERS) == pytest.approx(1.0)


def test_draws_have_the_moments_of_the_normal_distribution() -> None:
    drawn = even_pairs(768)
    assert drawn.mean(axis=1) == pytest.approx([0.0, 0.0], abs=0.02)
    assert np.cov(drawn) == pytest.approx(np.eye(2), abs=0.05)


def test_the_share_in_tune_is_that_of_the_normal_distribution() -> None:
    # P(|total| <= 8) for a total with standard deviation 8: erf(1 / sqrt 2) = 0.6827 (tables).
    chances = probabilities([(1.0, np.zeros(2), np.diag([32.0, 32.0]))])
    assert chances.in_tune == pytest.approx(0.6827, abs=0.015)


def verdict(in_tune: float, instrument: float, player: float, both: float) -> str:
    return verdict_of(
        Probabilities(in_tune=in_tune, instrument=instrument, player=player, both=both)
    )


def test_nobody_is_blamed_on_weak_evidence() -> None:
    assert verdict(0.3, 0.4, 0.2, 0.1) == "not enough evidence"
    assert verdict(0.05, 0.82, 0.03, 0.1) == "instrument"
    assert verdict(0.05, 0.5, 0.05, 0.4) == "at least partly the instrument"
    assert verdict(0.05, 0.05, 0.5, 0.4) == "at least partly the player"


def test_nobody_is_blamed_alone_while_the_other_may_well_be_the_one() -> None:
    assert verdict(0.05, 0.75, 0.15, 0.05) != "instrument"
