"""Every set of at most two faults as an explanation of how notes lie, with its evidence."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import erf, sqrt

import numpy as np
from numpy.typing import NDArray

from intonation.workshop.compass import Cents
from intonation.workshop.faults import Cause

PRIOR_EFFECT_CENTS = 15.0
"""Usual size of a fault at the note that it moves most (judgement, no source)."""

HEAD_JOINT_CENTS = 8.0
"""The same for the head joint: a millimetre, which is most of its room (computed with the model of
the alto; room after Taylor Historic Music)."""

LEAK_WEIGHT = 0.4
"""How often a leak is expected beside another fault: leaking fingers count as the player's, and a
leak of the instrument itself is rarer than a fault of its dimensions (judgement, no source)."""

ROUGHNESS_CENTS = 2.0
"""Scatter of a good instrument about any smooth pattern (judgement, no source)."""

OWN_WAY_CENTS = 4.0
"""The same of an instrument that may have more than two faults, when it is only asked where its
notes lie (judgement, no source)."""

FAULTS_EXPECTED = (0.05, 0.65, 0.3)
"""Prior probabilities of no fault, of one and of two (judgement, no source)."""

LOOKALIKE = 0.9
"""Patterns that agree so well (cosine) cannot be told apart by any few takes (judgement)."""

_NUISANCE_SD_CENTS = 50.0
_LEAST_PROBABLE = 0.001


@dataclass(frozen=True, slots=True)
class Explanations:
    """Every set of at most two faults: members (-1 is none), probability, sizes and their sds."""

    members: NDArray[np.intp]
    probability: NDArray[np.float64]
    mean: NDArray[np.float64]
    sd: NDArray[np.float64]

    def with_any(self, causes: Sequence[int]) -> NDArray[np.bool_]:
        """Return which explanations have one of the causes."""
        return np.asarray(np.isin(self.members, causes).any(axis=1))

    def chance_of(self, causes: Sequence[int]) -> float:
        """Return the probability that one of the causes is there."""
        return float(np.sum(self.probability[self.with_any(causes)]))

    def chance_of_both(self, causes: Sequence[int], others: Sequence[int]) -> float:
        """Return the probability that one of the causes is there beside one of the others."""
        both = self.with_any(causes) & self.with_any(others)
        return float(np.sum(self.probability[both]))

    @property
    def chance_of_two(self) -> float:
        """Return the probability that there are two faults."""
        return float(np.sum(self.probability[np.all(self.members >= 0, axis=1)]))

    def size_of(self, cause: int) -> tuple[float, float]:
        """Return mean and sd of a cause's size in the best explanation that has it."""
        best = int(np.argmax(np.where(self.with_any([cause]), self.probability, -1.0)))
        place = int(np.flatnonzero(self.members[best] == cause)[0])
        return float(self.mean[best, place]), float(self.sd[best, place])


def nuisance(midi: Cents) -> Cents:
    """Return the covariance of an unknown overall pitch and an unknown tilt."""
    octaves = (midi - np.mean(midi)) / 12.0
    variance = _NUISANCE_SD_CENTS**2
    return np.asarray(variance * (1.0 + np.outer(octaves, octaves)))


def alikeness(patterns: Cents, midi: Cents) -> Cents:
    """Return how alike all patterns are, 0 to 1, once overall pitch and tilt are free."""
    basis = np.stack([np.ones_like(midi), midi - np.mean(midi)], axis=1)
    left = patterns - patterns @ basis @ np.linalg.pinv(basis)
    norm = np.linalg.norm(left, axis=1, keepdims=True)
    unit = left / np.where(norm > 0.0, norm, 1.0)
    return np.asarray(np.abs(unit @ unit.T))


def explanations_of(
    causes: Sequence[Cause], midi: Cents, offset_cents: Cents, covariance: Cents
) -> Explanations:
    """Return the probability of no fault, of every fault and of every two that can be told apart.

    Parameters
    ----------
    causes
        Candidates, with patterns over the measured notes.
    midi, offset_cents, covariance
        Measured notes, their offsets and the covariance of these.

    Notes
    -----
    Each fault is a Gaussian size (a positive one for a leak) times its pattern, on top of the
    covariance, a roughness, and free overall pitch and tilt (the player's own slope). No fault,
    every fault and every two are compared by their marginal likelihoods (Bayesian model comparison,
    e.g. D. MacKay, *Information Theory, Inference, and Learning Algorithms* (2003), ch. 28). The 2
    by 2 systems of all pairs are solved at once; a single fault is a pair with nothing.
    """
    patterns = np.array([cause.pattern for cause in causes])
    base = covariance + ROUGHNESS_CENTS**2 * np.eye(len(midi)) + nuisance(midi)
    weighted = np.linalg.solve(base, patterns.T)
    count = len(causes)
    information = np.zeros((count + 1, count + 1))
    information[:count, :count] = patterns @ weighted
    score = np.append(offset_cents @ weighted, 0.0)
    members = _sets_of_two(alikeness(patterns, midi))
    precision = _precisions(causes)[members]
    systems = information[members[:, :, None], members[:, None, :]]
    systems = systems + precision[:, :, None] * np.eye(2)
    scores = score[members]
    inverse = np.linalg.inv(systems)
    mean = np.einsum("eij,ej->ei", inverse, scores)
    sd = np.sqrt(np.diagonal(inverse, axis1=1, axis2=2))
    log_evidence = 0.5 * np.sum(scores * mean, axis=1)
    log_evidence -= 0.5 * np.log(np.linalg.det(systems) / np.prod(precision, axis=1))
    log_evidence += _log_right_way(causes, members, mean / sd)
    log_evidence += _log_prior(causes, members)
    probability = np.exp(log_evidence - np.max(log_evidence))
    return Explanations(members, probability / np.sum(probability), mean, sd)


def expected_offsets(
    causes: Sequence[Cause], midi: Sequence[int], offset_cents: Cents, covariance: Cents
) -> tuple[Cents, Cents]:
    """Return where notes probably lie, given what is known of faults; NaN where not measured.

    Parameters
    ----------
    causes, midi, offset_cents, covariance
        As for `rank_causes`.

    Returns
    -------
    tuple
        Offsets about their mean, and their covariance.

    Notes
    -----
    The mean over all explanations. What no fault explains is believed the less, the less surely it
    was measured; a maximum and a minimum of plain measurements would lie too far apart.
    """
    known = np.isfinite(offset_cents)
    notes = np.asarray(midi, dtype=float)[known]
    places = np.flatnonzero(known).tolist()
    measured = [cause.over(places) for cause in causes]
    offsets, error = offset_cents[known], covariance[np.ix_(known, known)]
    fits = explanations_of(measured, notes, offsets, error)
    prior = nuisance(notes) + OWN_WAY_CENTS**2 * np.eye(len(notes))
    means, spreads, weights = [], [], []
    for members, weight in zip(fits.members, fits.probability.tolist(), strict=True):
        if weight > _LEAST_PROBABLE:
            expected = prior + _of_faults(measured, [i for i in members.tolist() if i >= 0])
            gain = np.linalg.solve(expected + error, expected).T
            means.append(gain @ offsets)
            spreads.append(expected - gain @ expected)
            weights.append(weight)
    return _mixed(np.array(means), np.array(spreads), np.array(weights), known)


def _of_faults(causes: Sequence[Cause], members: Sequence[int]) -> Cents:
    """Return the covariance of the notes under some faults of unknown size."""
    patterns = np.array([cause.pattern for cause in causes])[list(members)]
    variance = 1.0 / _precisions(causes)[list(members)]
    return np.asarray((patterns.T * variance) @ patterns)


def _mixed(
    means: Cents, spreads: Cents, weights: Cents, known: NDArray[np.bool_]
) -> tuple[Cents, Cents]:
    shares = weights / np.sum(weights)
    centring = np.eye(means.shape[1]) - 1.0 / means.shape[1]
    means = means @ centring
    mean = shares @ means
    covariance = np.einsum("e,eij->ij", shares, centring @ spreads @ centring)
    covariance += np.einsum("e,ei,ej->ij", shares, means - mean, means - mean)
    cents = np.full(len(known), np.nan)
    cents[known] = mean
    return cents, covariance


def _sets_of_two(alike: Cents) -> NDArray[np.intp]:
    """Return nothing, every cause alone, and every two that can be told apart."""
    count = len(alike)
    pairs = [pair for pair in combinations(range(count), 2) if alike[pair] <= LOOKALIKE]
    alone = ((one, -1) for one in range(count))
    return np.array([(-1, -1), *alone, *pairs], dtype=np.intp)


def _log_right_way(
    causes: Sequence[Cause], members: NDArray[np.intp], ratio: Cents
) -> NDArray[np.float64]:
    """Return the correction for leaks, which only ever sharpen: a half-normal prior."""
    only_up = np.array([*(cause.kind == "leak" for cause in causes), False])
    share = np.vectorize(lambda z: 1.0 + erf(z / sqrt(2.0)), otypes=[float])(ratio)
    return np.asarray(np.sum(np.where(only_up[members], np.log(share + 1e-12), 0.0), axis=1))


def _precisions(causes: Sequence[Cause]) -> NDArray[np.float64]:
    """Return the prior precision of each cause's size; nothing, the last, has the usual one."""
    usual = [HEAD_JOINT_CENTS if c.kind == "head joint" else PRIOR_EFFECT_CENTS for c in causes]
    return np.asarray(1.0 / np.array([*usual, PRIOR_EFFECT_CENTS]) ** 2)


def _log_prior(causes: Sequence[Cause], members: NDArray[np.intp]) -> NDArray[np.float64]:
    """Return the prior weight of each explanation, relative to those with as many faults."""
    faults = np.sum(members >= 0, axis=1)
    weight = np.array([*(LEAK_WEIGHT if c.kind == "leak" else 1.0 for c in causes), 1.0])
    each = np.prod(weight[members], axis=1)
    together = np.bincount(faults, weights=each, minlength=3)
    shares = np.array(FAULTS_EXPECTED) / np.where(together > 0.0, together, 1.0)
    return np.asarray(np.log(each * shares[faults]))
