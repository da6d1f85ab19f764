"""A linear mixed model with Gaussian effects: sizes by marginal likelihood, and posteriors.

observed = design @ effects + noise; every effect has mean zero and a standard deviation of its own,
the product of a base and the size of its group. Means of effects solve Henderson's mixed-model
equations (Henderson 1975, Biometrics 31:423); they are computed through the covariance of the
observations as in Rasmussen & Williams 2006, ch. 2. Effects with a very wide prior are integrated
out, which makes the likelihood the restricted one (Patterson & Thompson 1971, Biometrika 58:545).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FIXED_SIZE = -1
"""Group of effects and noise whose size is not estimated."""
_LARGEST_STEP = 0.7
_ENOUGH = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class MixedModel:
    """A model before its sizes are known.

    Parameters
    ----------
    design
        Rows by effects.
    observed
        One value per row.
    effect_sd, effect_group
        Base standard deviation, and group (``FIXED_SIZE`` for none), of every effect.
    noise_sd, noise_group
        The same for the noise of every row.
    """

    design: Array
    observed: Array
    effect_sd: Array
    effect_group: NDArray[np.intp]
    noise_sd: Array
    noise_group: NDArray[np.intp]

    def effect_variance(self, log_size: Array) -> Array:
        """Return the prior variance of every effect."""
        return self.effect_sd**2 * _squared_sizes(log_size, self.effect_group)

    def noise_variance(self, log_size: Array) -> Array:
        """Return the noise variance of every row."""
        return self.noise_sd**2 * _squared_sizes(log_size, self.noise_group)

    def covariance(self, log_size: Array) -> Array:
        """Return the covariance of the rows."""
        spread = self.design * self.effect_variance(log_size)
        total: Array = spread @ self.design.T
        total[np.diag_indices_from(total)] += self.noise_variance(log_size)
        return total


def _squared_sizes(log_size: Array, group: NDArray[np.intp]) -> Array:
    padded = np.append(log_size, 0.0)
    squared: Array = np.exp(2.0 * padded[group])
    return squared


@dataclass(frozen=True, slots=True)
class Posterior:
    """What the rows say about the effects.

    Parameters
    ----------
    mean
        Posterior mean of every effect.
    prior_variance
        Of every effect.
    weight
        Inverse covariance of the rows.
    residual
        ``weight @ observed``.
    design
        Rows by effects.
    log_evidence
        Log marginal likelihood of the rows, without its constant.
    """

    mean: Array
    prior_variance: Array
    weight: Array
    residual: Array
    design: Array
    log_evidence: float

    def means(self, combinations: Array) -> Array:
        """Return the posterior mean of linear combinations of the effects (one per row)."""
        means: Array = combinations @ self.mean
        return means

    def covariance(self, combinations: Array) -> Array:
        """Return the posterior covariance of linear combinations of the effects (one per row)."""
        spread = combinations * self.prior_variance
        seen = spread @ self.design.T
        covariance: Array = spread @ combinations.T - seen @ self.weight @ seen.T
        return covariance

    def surprise(self, rows: Array) -> tuple[Array, Array]:
        """Return how many standard deviations off each pattern of rows is, and its precision.

        Parameters
        ----------
        rows
            Rows by patterns. A unit column is a single row, whose surprise is then its
            leave-one-out residual (Rasmussen & Williams 2006, sec. 5.4.2).
        """
        precision = np.einsum("ij,ij->j", rows, self.weight @ rows)
        return rows.T @ self.residual / np.sqrt(precision), precision


def posterior(model: MixedModel, log_size: Array) -> Posterior:
    """Return the posterior of the effects for given sizes."""
    covariance = model.covariance(log_size)
    factor = np.linalg.cholesky(covariance)
    weight = np.asarray(np.linalg.inv(covariance), dtype=np.float64)
    residual = weight @ model.observed
    variance = model.effect_variance(log_size)
    log_determinant = 2.0 * float(np.sum(np.log(np.diag(factor))))
    return Posterior(
        mean=variance * (model.design.T @ residual),
        prior_variance=variance,
        weight=weight,
        residual=residual,
        design=model.design,
        log_evidence=-0.5 * (log_determinant + float(model.observed @ residual)),
    )


def estimated_log_sizes(
    model: MixedModel, *, precision: Array, start: Array | None = None, rounds: int = 12
) -> Array:
    """Return the log sizes at the maximum of marginal likelihood times prior.

    Newton steps with the average-information matrix (Gilmour, Thompson & Cullis 1995,
    Biometrics 51:1440), shortened until the objective rises.

    Parameters
    ----------
    model
        Its groups are numbered from 0 to ``len(precision) - 1``.
    precision
        Inverse covariance of the log sizes' prior, whose mean is zero.
    start
        Where to begin; zero by default.
    rounds
        Newton steps at most.
    """
    log_size = np.zeros(len(precision)) if start is None else start
    state = posterior(model, log_size)
    for _ in range(rounds):
        slope, curvature = _slope_and_curvature(model, state, log_size)
        ahead = np.linalg.solve(curvature + precision, slope - precision @ log_size)
        step = np.asarray(ahead, dtype=np.float64)
        step *= min(1.0, _LARGEST_STEP / max(float(np.max(np.abs(step))), 1e-12))
        moved, state = _risen(model, log_size, step, state, precision)
        if float(np.max(np.abs(moved - log_size))) < _ENOUGH:
            return moved
        log_size = moved
    return log_size


def _objective(state: Posterior, log_size: Array, precision: Array) -> float:
    return state.log_evidence - 0.5 * float(log_size @ precision @ log_size)


def _risen(
    model: MixedModel, log_size: Array, step: Array, state: Posterior, precision: Array
) -> tuple[Array, Posterior]:
    now = _objective(state, log_size, precision)
    for _ in range(6):
        moved = log_size + step
        there = posterior(model, moved)
        if _objective(there, moved, precision) >= now:
            return moved, there
        step = step * 0.4
    return log_size, state


def _slope_and_curvature(
    model: MixedModel, state: Posterior, log_size: Array
) -> tuple[Array, Array]:
    groups = len(log_size)
    noise = model.noise_variance(log_size)
    spread = np.einsum("ij,ij->j", model.design, state.weight @ model.design)
    squared_mean = (model.design.T @ state.residual) ** 2
    gain = state.prior_variance * (squared_mean - spread)
    row_gain = noise * (state.residual**2 - np.diag(state.weight))
    slope = _summed(gain, model.effect_group, groups)
    slope += _summed(row_gain, model.noise_group, groups)
    pushes = np.empty((len(noise), groups))
    for group in range(groups):
        chosen = model.effect_group == group
        pushes[:, group] = model.design[:, chosen] @ state.mean[chosen]
        pushes[:, group] += np.where(model.noise_group == group, noise * state.residual, 0.0)
    curvature: Array = 2.0 * pushes.T @ state.weight @ pushes
    return slope, curvature


def _summed(values: Array, group: NDArray[np.intp], groups: int) -> Array:
    chosen = group >= 0
    totals = np.bincount(group[chosen], weights=values[chosen], minlength=groups)
    return np.asarray(totals, dtype=np.float64)
