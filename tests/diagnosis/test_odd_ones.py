"""When one effect of a note is odd: the mixture against its closed form."""

import math

import numpy as np
import pytest

from intonation.diagnosis.odd_ones import (
    ODD,
    ODD_FINGERS_CENTS,
    ODD_SHARE,
    ORDINARY,
    NoteEffects,
    centred,
    with_odd_ones,
)


def normal(value: float, variance: float) -> float:
    return math.exp(-0.5 * value**2 / variance) / math.sqrt(variance)


def seen_once(value: float, *, prior: float, noise: float, least_odd: float = 0.0) -> NoteEffects:
    """Return what a fit says of one effect, the instrument's, that was read once with noise."""
    kept = prior / (prior + noise)
    mean, variance = kept * value, kept * noise
    part = np.array([1.0, 0.0, 0.0])
    return NoteEffects(
        1.0,
        mean * part,
        variance * np.outer(part, part),
        np.array([mean]),
        np.array([[variance]]),
        variance * part[:, None],
        np.array([prior]),
        np.array([least_odd]),
    )


@pytest.mark.parametrize("value", [0.0, 6.0, 25.0])
def test_one_reading_under_a_mixed_prior_gives_the_textbook_mixture(value: float) -> None:
    # Closed form: weights go as the normal densities of the reading under each prior, means and
    # variances as for each prior alone (Rasmussen & Williams 2006, sec. 2.1, one weight).
    prior, noise = 16.0, 9.0
    found = with_odd_ones([seen_once(value, prior=prior, noise=noise)], wider=1.0)
    sizes = np.array([ORDINARY, ODD]) ** 2 * prior
    odds = np.array([1.0 - ODD_SHARE, ODD_SHARE])
    weight = odds * np.array([normal(value, size + noise) for size in sizes])
    assert found.weight == pytest.approx(weight / weight.sum())
    assert found.mean[:, 0] == pytest.approx(value * sizes / (sizes + noise))
    assert found.covariance[:, 0, 0] == pytest.approx(sizes * noise / (sizes + noise))


def test_a_large_deviation_is_shrunk_less_than_a_small_one() -> None:
    instrument = np.array([1.0, 0.0, 0.0])
    kept = [
        with_odd_ones([seen_once(value, prior=16.0, noise=9.0)], wider=1.0).moments(instrument)[0]
        / value
        for value in (4.0, 24.0)
    ]
    assert kept[1] > 1.2 * kept[0]


def test_two_explanations_of_one_surprise_leave_the_note_open() -> None:
    # One reading of the sum of two alike effects: each may be the odd one, so their shares are
    # equal, and either may hold nearly all of it.
    value, prior, noise = 30.0, 16.0, 1.0
    gain = prior / (2.0 * prior + noise)
    covariance = prior * np.eye(2) - prior * gain * np.ones((2, 2))
    pick = np.array([[1.0, 0.0], [0.0, 1.0], [0.0, 0.0]])
    effects = NoteEffects(
        1.0,
        pick @ np.full(2, gain * value),
        pick @ covariance @ pick.T,
        np.full(2, gain * value),
        covariance,
        pick @ covariance,
        np.full(2, prior),
        np.zeros(2),
    )
    found = with_odd_ones([effects], wider=1.0)
    first, spread = found.moments(np.array([1.0, 0.0, 0.0]))
    assert first == pytest.approx(found.moments(np.array([0.0, 1.0, 0.0]))[0])
    assert spread > 1.5 * math.sqrt(covariance[0, 0])


def test_parts_are_centred_on_all_notes() -> None:
    notes = centred(
        with_odd_ones([seen_once(v, prior=16.0, noise=9.0)], wider=1.0) for v in (3.0, -9.0, 20.0)
    )
    assert np.mean([n.moments(np.array([1.0, 0.0, 0.0]))[0] for n in notes]) == pytest.approx(0.0)


def test_a_leaking_hole_on_a_plain_note_is_believed_though_plain_fingerings_hardly_differ() -> None:
    part = np.array([1.0, 0.0, 0.0])
    habit = [
        with_odd_ones([seen_once(12.0, prior=1.4, noise=4.0, least_odd=least)], wider=1.0)
        for least in (0.0, ODD_FINGERS_CENTS)
    ]
    assert habit[0].moments(part)[0] < 8.0
    assert habit[1].moments(part)[0] > 9.0
