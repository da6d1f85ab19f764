"""Which single fault of the instrument best explains how its notes lie."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.acoustics.alterations import Alteration
from intonation.workshop.compass import Cents, Compass, Progress

PRIOR_EFFECT_CENTS = 15.0
"""Usual size of a fault at the note that it moves most (judgement, no source)."""

ROUGHNESS_CENTS = 2.0
"""Scatter of a good instrument about any smooth pattern (judgement, no source)."""

_NUISANCE_SD_CENTS = 50.0
_BORE_ZONES = 4
_LOOKALIKE = 0.9
_Z90 = 1.645


@dataclass(frozen=True, slots=True)
class Cause:
    """A fault and the pattern that it draws over the compass.

    Parameters
    ----------
    key
        ``"hole size"``, ``"hole place"``, ``"bore"``, ``"leak"``, ``"octaves"`` or ``"none"``.
    hole
        Which hole, for causes that have one.
    from_mm, to_mm
        Which stretch of bore, for causes that have one.
    pattern
        Cents per note, scaled so that the largest movement is one cent; positive for a hole too
        large or too near the window, a bore too wide, a leak, or octaves too wide.
    """

    key: str
    pattern: tuple[float, ...]
    hole: str | None = None
    from_mm: float = 0.0
    to_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class RankedCause:
    """A cause with its probability and its size at the note that it moves most.

    Parameters
    ----------
    cause
        The fault.
    probability
        Among all causes considered, "no fault" included; a model estimate.
    size_cents, low_cents, high_cents
        Signed size and its 90 % interval.
    tell_apart_midi
        Notes whose further measurement would best separate it from the first-ranked cause.
    """

    cause: Cause
    probability: float
    size_cents: float
    low_cents: float
    high_cents: float
    tell_apart_midi: tuple[int, ...]


def candidate_causes(compass: Compass, *, progress: Progress | None = None) -> tuple[Cause, ...]:
    """Return every fault that the acoustic model knows, with its pattern over the compass.

    Parameters
    ----------
    compass
        The instrument as it should be.
    progress
        Told the finished share after each pattern.
    """
    finger_holes = sorted({hole.name for hole in compass.geometry.holes})
    zones = _bore_zones(compass)
    total = 2 * len(finger_holes) + len(zones) + 1
    causes: list[Cause] = []

    def add(key: str, pattern: Cents, **where: object) -> None:
        scaled = _scaled(pattern)
        causes.append(Cause(key, tuple(scaled), **where))  # type: ignore[arg-type]
        if progress is not None:
            progress(len(causes) / total)

    for hole in finger_holes:
        larger = Alteration(work="enlarge a hole", amount_mm=0.1, hole=hole)
        add("hole size", compass.effect([larger]), hole=hole)
    for hole in finger_holes:
        add("leak", compass.leak_effect(hole), hole=hole)
    for from_mm, to_mm in zones:
        lining = Alteration(work="line the bore", amount_mm=0.05, from_mm=from_mm, to_mm=to_mm)
        add("bore", -compass.effect([lining]), from_mm=from_mm, to_mm=to_mm)
    add("octaves", _octaves_too_wide(compass))
    return tuple(causes)


def _scaled(pattern: Cents) -> NDArray[np.float64]:
    finite = np.nan_to_num(pattern)
    largest = np.max(np.abs(finite))
    return np.asarray(finite / largest if largest > 0 else finite)


def _bore_zones(compass: Compass) -> list[tuple[float, float]]:
    geometry = compass.geometry
    edges = np.linspace(geometry.head_joint_mm + 2.0, geometry.length_mm - 2.0, _BORE_ZONES + 1)
    return list(zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True))


def _octaves_too_wide(compass: Compass) -> NDArray[np.float64]:
    """Return a pattern that widens every octave alike: half down below, half up above."""
    midi = np.asarray(compass.midi)
    return np.where(midi - midi[0] >= 16, 0.5, -0.5)


def rank_causes(
    causes: Sequence[Cause], midi: Sequence[int], offset_cents: Cents, covariance: Cents
) -> tuple[RankedCause, ...]:
    """Return the causes in order of probability, given measured offsets of the instrument.

    Parameters
    ----------
    causes
        Candidates; "no fault" is always added.
    midi
        Measured notes, shape ``(n,)``; patterns are given for the same notes.
    offset_cents
        Offset of each note, NaN where not measured.
    covariance
        Its covariance matrix, shape ``(n, n)``.

    Notes
    -----
    Each cause is a Gaussian amplitude times its pattern, on top of measurement covariance, a
    roughness, and free overall pitch and tilt (the player's own slope); marginal likelihoods are
    compared with equal prior weights (Bayesian model comparison, e.g. D. MacKay, *Information
    Theory, Inference, and Learning Algorithms* (2003), ch. 28).
    """
    measured = np.isfinite(offset_cents)
    notes = np.asarray(midi, dtype=float)[measured]
    base = covariance[np.ix_(measured, measured)] + ROUGHNESS_CENTS**2 * np.eye(len(notes))
    base = base + _nuisance_covariance(notes)
    offsets = offset_cents[measured]
    fits = [_fit(np.asarray(cause.pattern)[measured], offsets, base) for cause in causes]
    none = Cause("none", tuple(0.0 for _ in midi))
    fits.append((0.0, 0.0, 0.0))
    evidence = np.array([fit[0] for fit in fits])
    probability = np.exp(evidence - np.max(evidence))
    probability /= np.sum(probability)
    order = np.argsort(-probability)
    everything = (*causes, none)
    first = everything[order[0]]
    first_size = fits[order[0]][1]
    return tuple(
        _ranked(everything[i], float(probability[i]), fits[i], (first, first_size), midi)
        for i in order
    )


def _nuisance_covariance(midi: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the covariance of an unknown overall pitch and an unknown tilt."""
    octaves = (midi - np.mean(midi)) / 12.0
    constant = np.ones_like(octaves)
    variance = _NUISANCE_SD_CENTS**2
    return np.asarray(variance * (np.outer(constant, constant) + np.outer(octaves, octaves)))


def _fit(
    pattern: NDArray[np.float64], offsets: NDArray[np.float64], base: NDArray[np.float64]
) -> tuple[float, float, float]:
    """Return log evidence ratio against no fault, and mean and sd of the amplitude in cents."""
    weighted = np.linalg.solve(base, pattern)
    information = float(pattern @ weighted)
    score = float(offsets @ weighted)
    prior_variance = PRIOR_EFFECT_CENTS**2
    posterior_variance = 1.0 / (information + 1.0 / prior_variance)
    mean = posterior_variance * score
    gain = 0.5 * mean * score - 0.5 * np.log1p(prior_variance * information)
    return float(gain), mean, float(np.sqrt(posterior_variance))


def _ranked(
    cause: Cause,
    probability: float,
    fit: tuple[float, float, float],
    first: tuple[Cause, float],
    midi: Sequence[int],
) -> RankedCause:
    _, mean, sd = fit
    difference = np.abs(mean * np.asarray(cause.pattern) - first[1] * np.asarray(first[0].pattern))
    best = np.argsort(-difference)[:3]
    apart = tuple(int(midi[i]) for i in sorted(best)) if np.max(difference) > 1.0 else ()
    return RankedCause(cause, probability, mean, mean - _Z90 * sd, mean + _Z90 * sd, apart)


def look_alike(first: Cause, second: Cause, midi: Sequence[int]) -> bool:
    """Return whether two causes draw the same pattern once pitch and tilt are free."""
    notes = np.asarray(midi, dtype=float)
    basis = np.stack([np.ones_like(notes), notes - np.mean(notes)], axis=1)
    projector = np.eye(len(notes)) - basis @ np.linalg.pinv(basis)
    one, two = projector @ np.asarray(first.pattern), projector @ np.asarray(second.pattern)
    norm = float(np.linalg.norm(one) * np.linalg.norm(two))
    return bool(norm > 0.0 and abs(float(one @ two)) / norm > _LOOKALIKE)
