"""The statistics behind the habits agree with published figures and with general libraries."""

import numpy as np
import pytest
import scipy.stats
import statsmodels.api
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.meta_analysis import combine_effects

from intonation.habits.pooling import pooled, variance_among
from intonation.habits.scatter import PITCH, Readings, readings_from, robust_spread
from intonation.habits.slopes import means_by_note, slopes_by_note

EFFECTS = np.array([28.0, 8.0, -3.0, 7.0, -1.0, 1.0, 18.0, 12.0])
ERRORS = np.array([15.0, 10.0, 16.0, 11.0, 9.0, 11.0, 10.0, 18.0])
"""Coaching in eight schools: D. B. Rubin, J. Educ. Stat. 6 (1981) 377, table 1 (from memory)."""


def test_eight_schools_come_to_their_published_common_effect() -> None:
    """7.7 with standard error 4.1: A. Gelman et al., Bayesian Data Analysis, 5.5 (from memory)."""
    found = pooled(EFFECTS, ERRORS**2)
    assert found.centre is not None
    assert variance_among(EFFECTS, ERRORS**2) == 0.0
    assert found.centre.mean == pytest.approx(7.7, abs=0.05)
    assert (found.centre.high - found.centre.low) / (2 * 1.645) == pytest.approx(4.1, abs=0.05)
    assert found.mean == pytest.approx(np.full(8, found.centre.mean))


@pytest.mark.parametrize("seed", range(6))
def test_the_variance_among_notes_is_that_of_a_statistics_library(seed: int) -> None:
    """Against statsmodels' iterated (Paule and Mandel) estimate."""
    rng = np.random.default_rng(seed)
    errors = rng.uniform(0.5, 9.0, 4 + 3 * seed)
    effects = rng.normal(3.0, 1.0 + seed, errors.size) + errors * rng.normal(size=errors.size)
    library = combine_effects(effects, errors**2, method_re="iterated")
    among = variance_among(effects, errors**2)
    assert among == pytest.approx(max(0.0, library.tau2), rel=1e-3, abs=1e-3)


@given(st.lists(st.floats(-50, 50), min_size=1, max_size=40))
def test_the_spread_is_that_of_a_statistics_library(values: list[float]) -> None:
    expected = scipy.stats.median_abs_deviation(values, scale="normal")
    assert robust_spread(np.array(values)) == pytest.approx(expected, abs=1e-3, rel=1e-4)


def some_readings(seed: int, count: int = 60) -> tuple[Readings, np.ndarray]:
    """Return readings of three notes in five sittings, and a cause of them."""
    rng = np.random.default_rng(seed)
    note = rng.integers(0, 3, count)
    sitting = rng.integers(0, 5, count)
    cause = rng.integers(0, 2, count).astype(float)
    value = 3.0 * note + 2.0 * cause + rng.normal(0, 3, 5)[sitting] + rng.normal(0, 2, count)
    return readings_from(value, note=note, sitting=sitting, notes=3, usual=PITCH), cause


@pytest.mark.parametrize("seed", range(4))
def test_slopes_and_means_are_those_of_generalised_least_squares(seed: int) -> None:
    """Against statsmodels' GLS with the same covariance."""
    readings, cause = some_readings(seed)
    slope, variance = slopes_by_note(readings, cause)
    mean, mean_variance = means_by_note(readings)
    for note in range(3):
        own = readings.note == note
        together = readings.sitting[own][:, None] == readings.sitting[own][None, :]
        covariance = readings.between * together + readings.within[note] * np.eye(own.sum())
        one = np.ones(own.sum())
        fit = statsmodels.api.GLS(
            readings.value[own], np.stack([one, cause[own]], axis=1), sigma=covariance
        ).fit(cov_type="fixed scale")
        assert slope[note] == pytest.approx(fit.params[1])
        assert variance[note] == pytest.approx(fit.bse[1] ** 2)
        alone = statsmodels.api.GLS(readings.value[own], one, sigma=covariance)
        alone = alone.fit(cov_type="fixed scale")
        assert mean[note] == pytest.approx(alone.params[0])
        assert mean_variance[note] == pytest.approx(alone.bse[0] ** 2)


def test_an_uncertain_note_is_drawn_in_and_a_certain_one_stays() -> None:
    mean = np.array([20.0, 20.0, 0.0, 1.0, -2.0, 2.0, -1.0])
    variance = np.array([100.0, 0.1, 4.0, 4.0, 4.0, 4.0, 4.0])
    found = pooled(mean, variance)
    assert found.mean[0] < 14.0
    assert found.mean[1] == pytest.approx(20.0, abs=0.1)


def test_a_note_without_readings_stays_unknown() -> None:
    found = pooled(np.array([1.0, np.nan, 3.0]), np.array([1.0, np.nan, 1.0]))
    assert found.of(1) is None
    assert found.of(0) is not None
    assert pooled(np.full(3, np.nan), np.full(3, np.nan)).centre is None
