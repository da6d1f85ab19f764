"""Which fault, or which two, best explain how an instrument's notes lie."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
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

FAULTS_EXPECTED = (0.05, 0.65, 0.3)
"""Prior probabilities of no fault, of one and of two (judgement, no source)."""

LOOKALIKE = 0.9
"""Patterns that agree so well (cosine) cannot be told apart by any few takes (judgement)."""

_NUISANCE_SD_CENTS = 50.0
_Z90 = 1.645
_APART_CENTS = 1.0
_MOST_NOTES_APART = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class RankedCause:
    """A cause with its probability and its size at the note that it moves most.

    Parameters
    ----------
    cause
        The fault, the most probable one of those that draw the same pattern.
    look_alikes
        Other faults that cannot be told from it by these notes; counted in the probability.
    probability
        That the fault, or a look-alike, is there, alone or beside another: a model estimate. For
        ``"none"``, that there is no fault at all.
    size_cents, low_cents, high_cents
        Signed size and its 90 % interval.
    tell_apart_midi
        Notes whose further measurement would best separate it from the first-ranked cause.
    """

    cause: Cause
    look_alikes: tuple[Cause, ...]
    probability: float
    size_cents: float
    low_cents: float
    high_cents: float
    tell_apart_midi: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class _Explanations:
    """Every set of at most two faults: members (-1 is none), probability, sizes and their sds."""

    members: NDArray[np.intp]
    probability: NDArray[np.float64]
    mean: NDArray[np.float64]
    sd: NDArray[np.float64]

    def with_any(self, causes: Sequence[int]) -> NDArray[np.bool_]:
        """Return which explanations have one of the causes."""
        return np.asarray(np.isin(self.members, causes).any(axis=1))

    def size_of(self, cause: int) -> tuple[float, float]:
        """Return mean and sd of a cause's size in the best explanation that has it."""
        best = int(np.argmax(np.where(self.with_any([cause]), self.probability, -1.0)))
        place = int(np.flatnonzero(self.members[best] == cause)[0])
        return float(self.mean[best, place]), float(self.sd[best, place])


def rank_causes(
    causes: Sequence[Cause], midi: Sequence[int], offset_cents: Cents, covariance: Cents
) -> tuple[RankedCause, ...]:
    """Return the causes in order of probability, given measured offsets of the instrument.

    Parameters
    ----------
    causes
        Candidates; "no fault" is always added.
    midi
        Notes of the compass, shape ``(n,)``; patterns are given for the same notes.
    offset_cents
        Offset of each note, NaN where not measured.
    covariance
        Its covariance matrix, shape ``(n, n)``.

    Notes
    -----
    Each fault is a Gaussian size (a positive one for a leak) times its pattern, on top of the
    measurement covariance, a roughness, and free overall pitch and tilt (the player's own slope).
    No fault, every fault and every two are compared by their marginal likelihoods (Bayesian model
    comparison, e.g. D. MacKay, *Information Theory, Inference, and Learning Algorithms* (2003),
    ch. 28); a fault's probability sums over all explanations that have it.
    """
    measured = np.isfinite(offset_cents)
    notes = np.asarray(midi, dtype=float)[measured]
    patterns = np.array([cause.pattern for cause in causes])
    alike = _alikeness(patterns[:, measured], notes)
    base = covariance[np.ix_(measured, measured)] + ROUGHNESS_CENTS**2 * np.eye(len(notes))
    fits = _explanations(
        causes, patterns[:, measured], offset_cents[measured], base + _nuisance(notes), alike
    )
    ranked = [_ranked(causes, group, fits) for group in _groups(fits, alike)]
    ranked.append(_sound(fits, len(midi)))
    ranked.sort(key=lambda entry: -entry.probability)
    return tuple(_told_apart(entry, ranked[0], midi) for entry in ranked)


def _nuisance(midi: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the covariance of an unknown overall pitch and an unknown tilt."""
    octaves = (midi - np.mean(midi)) / 12.0
    variance = _NUISANCE_SD_CENTS**2
    return np.asarray(variance * (1.0 + np.outer(octaves, octaves)))


def _alikeness(patterns: NDArray[np.float64], midi: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how alike all patterns are, 0 to 1, once overall pitch and tilt are free."""
    basis = np.stack([np.ones_like(midi), midi - np.mean(midi)], axis=1)
    left = patterns - patterns @ basis @ np.linalg.pinv(basis)
    norm = np.linalg.norm(left, axis=1, keepdims=True)
    unit = left / np.where(norm > 0.0, norm, 1.0)
    return np.asarray(np.abs(unit @ unit.T))


def _explanations(
    causes: Sequence[Cause],
    patterns: NDArray[np.float64],
    offsets: NDArray[np.float64],
    base: NDArray[np.float64],
    alike: NDArray[np.float64],
) -> _Explanations:
    """Return the probability of no fault, of every fault and of every two that can be told apart.

    The 2 by 2 systems of all pairs are solved at once; a single fault is a pair with nothing.
    """
    count = len(causes)
    weighted = np.linalg.solve(base, patterns.T)
    information = np.zeros((count + 1, count + 1))
    information[:count, :count] = patterns @ weighted
    score = np.append(offsets @ weighted, 0.0)
    pairs = [pair for pair in combinations(range(count), 2) if alike[pair] <= LOOKALIKE]
    members = np.array([(-1, -1), *((one, -1) for one in range(count)), *pairs], dtype=np.intp)
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
    return _Explanations(members, probability / np.sum(probability), mean, sd)


def _log_right_way(
    causes: Sequence[Cause], members: NDArray[np.intp], ratio: NDArray[np.float64]
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


def _groups(fits: _Explanations, alike: NDArray[np.float64]) -> list[list[int]]:
    """Return causes that cannot be told apart together, each group's most probable one first."""
    chances = [float(np.sum(fits.probability[fits.with_any([i])])) for i in range(len(alike))]
    groups: list[list[int]] = []
    for cause in sorted(range(len(alike)), key=lambda i: -chances[i]):
        group = next((g for g in groups if alike[g[0], cause] > LOOKALIKE), None)
        if group is None:
            groups.append([cause])
        else:
            group.append(cause)
    return groups


def _ranked(causes: Sequence[Cause], group: Sequence[int], fits: _Explanations) -> RankedCause:
    mean, sd = fits.size_of(group[0])
    return RankedCause(
        cause=causes[group[0]],
        look_alikes=tuple(causes[i] for i in group[1:]),
        probability=float(np.sum(fits.probability[fits.with_any(group)])),
        size_cents=mean,
        low_cents=mean - _Z90 * sd,
        high_cents=mean + _Z90 * sd,
    )


def _sound(fits: _Explanations, notes: int) -> RankedCause:
    none = Cause(kind="none", pattern=(0.0,) * notes)
    return RankedCause(
        cause=none,
        look_alikes=(),
        probability=float(fits.probability[0]),
        size_cents=0.0,
        low_cents=0.0,
        high_cents=0.0,
    )


def _told_apart(entry: RankedCause, first: RankedCause, midi: Sequence[int]) -> RankedCause:
    drawn, drawn_by_first = (
        each.size_cents * np.asarray(each.cause.pattern) for each in (entry, first)
    )
    difference = np.abs(drawn - drawn_by_first)
    best = np.argsort(-difference)[:_MOST_NOTES_APART]
    apart = sorted(int(midi[i]) for i in best if difference[i] > _APART_CENTS)
    return replace(entry, tell_apart_midi=tuple(apart))
