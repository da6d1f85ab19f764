"""The arithmetic of the mixed model, against closed forms and against statsmodels."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.diagnosis.inverse_root import inverse_root
from intonation.diagnosis.mixed_model import (
    FIXED_SIZE,
    MixedModel,
    estimated_log_sizes,
    posterior,
)


def one_mean(values: list[float], *, effect_sd: float, noise_sd: float) -> MixedModel:
    count = len(values)
    return MixedModel(
        design=np.ones((count, 1)),
        observed=np.array(values),
        effect_sd=np.array([effect_sd]),
        effect_group=np.array([FIXED_SIZE]),
        noise_sd=np.full(count, noise_sd),
        noise_group=np.full(count, FIXED_SIZE),
    )


def test_a_mean_is_drawn_to_its_prior_by_the_textbook_share() -> None:
    # Closed form (Rasmussen & Williams 2006, eq. 2.8, one weight): n a / (n a + b), a = 1/noise.
    state = posterior(one_mean([6.0, 10.0], effect_sd=2.0, noise_sd=1.0), np.zeros(0))
    assert state.mean[0] == pytest.approx(8.0 * 2.0 / (2.0 + 0.25))
    assert state.covariance(np.ones((1, 1)))[0, 0] == pytest.approx(1.0 / 2.25)


def test_the_evidence_is_the_density_of_the_readings() -> None:
    # Two readings with variances 5, covariance 4: log N by hand.
    state = posterior(one_mean([1.0, -1.0], effect_sd=2.0, noise_sd=1.0), np.zeros(0))
    assert state.log_evidence == pytest.approx(-0.5 * (np.log(9.0) + 2.0))


def test_a_single_row_s_surprise_is_its_leave_one_out_residual() -> None:
    # Rasmussen & Williams 2006, sec. 5.4.2; left out by hand here.
    values = [0.0, 1.0, 9.0]
    state = posterior(one_mean(values, effect_sd=3.0, noise_sd=1.0), np.zeros(0))
    rest = posterior(one_mean(values[:2], effect_sd=3.0, noise_sd=1.0), np.zeros(0))
    spread = np.sqrt(1.0 + rest.covariance(np.ones((1, 1)))[0, 0])
    surprise, _ = state.surprise(np.eye(3))
    assert surprise[2] == pytest.approx((9.0 - rest.mean[0]) / spread)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10_000))
def test_more_readings_never_make_a_combination_less_certain(seed: int) -> None:
    rng = np.random.default_rng(seed)
    design, asked = rng.normal(size=(6, 4)), rng.normal(size=(1, 4))
    model = MixedModel(
        design=design,
        observed=rng.normal(size=6),
        effect_sd=np.ones(4),
        effect_group=np.full(4, FIXED_SIZE),
        noise_sd=np.ones(6),
        noise_group=np.full(6, FIXED_SIZE),
    )
    fewer = MixedModel(
        design=design[:3],
        observed=model.observed[:3],
        effect_sd=model.effect_sd,
        effect_group=model.effect_group,
        noise_sd=np.ones(3),
        noise_group=np.full(3, FIXED_SIZE),
    )
    nothing = np.zeros(0)
    more = posterior(model, nothing).covariance(asked)[0, 0]
    assert more <= posterior(fewer, nothing).covariance(asked)[0, 0] + 1e-9


def test_effects_solve_henderson_s_mixed_model_equations() -> None:
    # Henderson 1975: (Z'R^-1 Z + G^-1) u = Z'R^-1 y, solved here in that form.
    rng = np.random.default_rng(3)
    design, observed = rng.normal(size=(12, 5)), rng.normal(size=12)
    effect_sd, noise_sd = rng.uniform(0.5, 2.0, 5), rng.uniform(0.5, 2.0, 12)
    model = MixedModel(
        design=design,
        observed=observed,
        effect_sd=effect_sd,
        effect_group=np.full(5, FIXED_SIZE),
        noise_sd=noise_sd,
        noise_group=np.full(12, FIXED_SIZE),
    )
    state = posterior(model, np.zeros(0))
    left = (design.T / noise_sd**2) @ design + np.diag(effect_sd**-2.0)
    expected = np.linalg.solve(left, (design.T / noise_sd**2) @ observed)
    assert state.mean == pytest.approx(expected, abs=1e-10)
    assert state.covariance(np.eye(5)) == pytest.approx(np.linalg.inv(left), abs=1e-10)


def crossed_case() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Readings of 9 players on 8 instruments, three each: a made-up crossed table."""
    rng = np.random.default_rng(11)
    player = np.repeat(np.arange(9), 24)
    instrument = np.tile(np.repeat(np.arange(8), 3), 9)
    values = 4.0 + rng.normal(0, 6.0, 9)[player] + rng.normal(0, 3.0, 8)[instrument]
    return player, instrument, values + rng.normal(0, 2.0, len(player))


def test_sizes_and_effects_agree_with_statsmodels_on_a_crossed_table() -> None:
    # statsmodels MixedLM, REML, crossed random effects as variance components.
    mixed = pytest.importorskip("statsmodels.regression.mixed_linear_model")
    player, instrument, values = crossed_case()
    players, instruments = np.eye(9)[player], np.eye(8)[instrument]
    model = MixedModel(
        design=np.hstack([np.ones((len(values), 1)), players, instruments]),
        observed=values,
        effect_sd=np.concatenate([[1e4], np.ones(17)]),
        effect_group=np.array([FIXED_SIZE] + [0] * 9 + [1] * 8),
        noise_sd=np.ones(len(values)),
        noise_group=np.full(len(values), 2),
    )
    log_sizes = estimated_log_sizes(model, precision=np.zeros((3, 3)), rounds=60)
    names = [[f"p{i}" for i in range(9)]], [[f"i{i}" for i in range(8)]]
    components = mixed.VCSpec(["player", "instrument"], [*names], [[players], [instruments]])
    ones = np.ones((len(values), 1))
    other = mixed.MixedLM(values, ones, groups=np.ones(len(values)), exog_vc=components)
    fitted = other.fit(reml=True)
    theirs = np.sqrt([*fitted.vcomp, fitted.scale])
    assert np.exp(log_sizes) == pytest.approx(theirs, rel=2e-3)
    effects = np.asarray(next(iter(fitted.random_effects.values())))
    assert posterior(model, log_sizes).mean[1:] == pytest.approx(effects, abs=0.02)


def test_single_effects_are_told_as_the_combinations_that_name_them() -> None:
    rng = np.random.default_rng(5)
    model = MixedModel(
        design=rng.normal(size=(70, 9)),
        observed=rng.normal(size=70),
        effect_sd=rng.uniform(0.5, 2.0, 9),
        effect_group=np.full(9, FIXED_SIZE),
        noise_sd=np.ones(70),
        noise_group=np.full(70, FIXED_SIZE),
    )
    state = posterior(model, np.zeros(0))
    asked, effects = rng.normal(size=(3, 9)), np.array([7, 2])
    named = state.covariance(np.vstack([asked, np.eye(9)[effects]]))
    assert state.with_effects(asked, effects) == pytest.approx(named, abs=1e-12)


@pytest.mark.parametrize("count", [1, 33, 150])
def test_the_root_of_an_inverse_inverts(count: int) -> None:
    # numpy's general solver (LAPACK gesv) beside it.
    rng = np.random.default_rng(count)
    half = rng.normal(size=(count, count))
    covariance = half @ half.T + np.eye(count)
    root = inverse_root(covariance)
    assert np.tril(root) == pytest.approx(root)
    assert root.T @ root == pytest.approx(np.linalg.solve(covariance, np.eye(count)), abs=1e-9)
