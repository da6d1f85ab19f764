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

from intonation.diagnosis.inverse_root import inverse_root

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
        spread = self.design * np.sqrt(self.effect_variance(log_size))
        total: Array = spread @ spread.T
        total[np.diag_indices_from(total)] += self.noise_variance(log_size)
        return total

    def shares(self, groups: int) -> "Shares":
        """Return the covariance of the rows by the groups that it comes from."""
        free = np.empty((groups, len(self.observed), len(self.observed)))
        for group in range(groups):
            free[group] = self._share(group)
        return Shares(self.observed, self._share(FIXED_SIZE), free)

    def _share(self, group: int) -> Array:
        chosen = self.effect_group == group
        spread = self.design[:, chosen] * self.effect_sd[chosen]
        total: Array = spread @ spread.T
        total[np.diag_indices_from(total)] += self.noise_sd**2 * (self.noise_group == group)
        return total


def _squared_sizes(log_size: Array, group: NDArray[np.intp]) -> Array:
    padded = np.append(log_size, 0.0)
    squared: Array = np.exp(2.0 * padded[group])
    return squared


@dataclass(frozen=True, slots=True)
class Shares:
    """The rows of a model, with their covariance as a sum: it is linear in the squared sizes.

    Parameters
    ----------
    observed
        One value per row.
    fixed
        Rows by rows: by effects and noise of fixed size.
    free
        Groups by rows by rows: by each group at its base size.
    """

    observed: Array
    fixed: Array
    free: Array

    def weighed(self, log_size: Array) -> "Weighed":
        """Return how much the rows count for given sizes."""
        covariance = self.fixed + np.tensordot(np.exp(2.0 * log_size), self.free, axes=1)
        return weighed(self.observed, covariance)


@dataclass(frozen=True, slots=True)
class Weighed:
    """How much the rows count.

    Parameters
    ----------
    root
        Rows by rows: ``root.T @ root`` is the inverse of their covariance.
    residual
        The inverse covariance times what was observed.
    log_evidence
        Log marginal likelihood, without its constant.
    """

    root: Array
    residual: Array
    log_evidence: float


def weighed(observed: Array, covariance: Array) -> Weighed:
    """Return how much rows count, given their covariance."""
    root = inverse_root(covariance)
    white = root @ observed
    log_evidence = float(np.sum(np.log(np.diag(root)))) - 0.5 * float(white @ white)
    return Weighed(root, root.T @ white, log_evidence)


@dataclass(frozen=True, slots=True)
class Posterior:
    """What the rows say about the effects.

    Parameters
    ----------
    mean
        Posterior mean of every effect.
    prior_variance
        Of every effect.
    design
        Rows by effects.
    rows
        How much the rows count.
    """

    mean: Array
    prior_variance: Array
    design: Array
    rows: Weighed

    @property
    def log_evidence(self) -> float:
        """Log marginal likelihood of the rows, without its constant."""
        return self.rows.log_evidence

    def means(self, combinations: Array) -> Array:
        """Return the posterior mean of linear combinations of the effects (one per row)."""
        means: Array = combinations @ self.mean
        return means

    def covariance(self, combinations: Array) -> Array:
        """Return the posterior covariance of linear combinations of the effects (one per row)."""
        before, seen = self._spread(combinations)
        covariance: Array = before - seen @ seen.T
        return covariance

    def with_effects(self, combinations: Array, effects: NDArray[np.intp]) -> Array:
        """Return the posterior covariance of combinations, and then of some effects themselves."""
        prior = self.prior_variance[effects]
        across = combinations[:, effects] * prior
        before, seen = self._spread(combinations)
        directly_seen = prior[:, None] * (self.rows.root @ self.design[:, effects]).T
        both = np.vstack([seen, directly_seen])
        joint: Array = np.block([[before, across], [across.T, np.diag(prior)]]) - both @ both.T
        return joint

    def _spread(self, combinations: Array) -> tuple[Array, Array]:
        """Return the prior covariance of combinations, and a root of what the rows take from it."""
        named = np.flatnonzero(combinations.any(axis=0))
        shares = combinations[:, named]
        spread = shares * self.prior_variance[named]
        seen: Array = spread @ self.design[:, named].T @ self.rows.root.T
        return spread @ shares.T, seen

    def surprise(self, rows: Array) -> tuple[Array, Array]:
        """Return how many standard deviations off each pattern of rows is, and its precision.

        Parameters
        ----------
        rows
            Rows by patterns. A unit column is a single row, whose surprise is then its
            leave-one-out residual (Rasmussen & Williams 2006, sec. 5.4.2).
        """
        precision = np.sum((self.rows.root @ rows) ** 2, axis=0)
        return rows.T @ self.rows.residual / np.sqrt(precision), precision


def posterior(model: MixedModel, log_size: Array, shares: Shares | None = None) -> Posterior:
    """Return the posterior of the effects for given sizes.

    Parameters
    ----------
    model, log_size
        The model and its sizes.
    shares
        Of the model, if they are at hand.
    """
    if shares is None:
        rows = weighed(model.observed, model.covariance(log_size))
    else:
        rows = shares.weighed(log_size)
    variance = model.effect_variance(log_size)
    mean = variance * (model.design.T @ rows.residual)
    return Posterior(mean, variance, model.design, rows)


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
    shares = model.shares(len(log_size))
    rows = shares.weighed(log_size)
    for _ in range(rounds):
        slope, curvature = _slope_and_curvature(shares, rows, log_size)
        ahead = np.linalg.solve(curvature + precision, slope - precision @ log_size)
        step = np.asarray(ahead, dtype=np.float64)
        step *= min(1.0, _LARGEST_STEP / max(float(np.max(np.abs(step))), 1e-12))
        moved, rows = _risen(shares, log_size, step, rows, precision)
        if float(np.max(np.abs(moved - log_size))) < _ENOUGH:
            return moved
        log_size = moved
    return log_size


def _objective(rows: Weighed, log_size: Array, precision: Array) -> float:
    return rows.log_evidence - 0.5 * float(log_size @ precision @ log_size)


def _risen(
    shares: Shares, log_size: Array, step: Array, rows: Weighed, precision: Array
) -> tuple[Array, Weighed]:
    now = _objective(rows, log_size, precision)
    for _ in range(6):
        moved = log_size + step
        there = shares.weighed(moved)
        if _objective(there, moved, precision) >= now:
            return moved, there
        step = step * 0.4
    return log_size, rows


def _slope_and_curvature(shares: Shares, rows: Weighed, log_size: Array) -> tuple[Array, Array]:
    squared = np.exp(2.0 * log_size)
    unexplained = np.outer(rows.residual, rows.residual) - rows.root.T @ rows.root
    slope = squared * np.tensordot(shares.free, unexplained, axes=2)
    pushes = rows.root @ (squared[:, None] * (shares.free @ rows.residual)).T
    curvature: Array = 2.0 * pushes.T @ pushes
    return slope, curvature
