"""How the pitch of every note bends with breath: slopes and curvatures, drawn together."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis import magnitudes
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.readings import Array, Numbers

_SCALES = (0.5, 0.75, 1.0, 1.4, 2.0, 2.8)
_LOG_SCALE_SPREAD = 0.5
"""How much more, or less, than usual the notes of an instrument may differ in how they bend."""
_MIDDLE_DB = math.hypot(magnitudes.FIXED.swell_db, magnitudes.size_of("middle"))


@dataclass(frozen=True, slots=True)
class _Usual:
    """What is usual: the middle, and the spreads of height, tilt per octave, and single notes."""

    middle: float
    height: float
    tilt: float
    note: float


_SLOPE = _Usual(
    magnitudes.USUAL_CENTS_PER_DB,
    magnitudes.CENTS_PER_DB_SPREAD,
    magnitudes.CENTS_PER_DB_TILT,
    magnitudes.NOTE_CENTS_PER_DB_SPREAD,
)
_CURVATURE = _Usual(
    magnitudes.USUAL_CURVATURE,
    magnitudes.CURVATURE_SPREAD,
    magnitudes.CURVATURE_TILT,
    magnitudes.NOTE_CURVATURE_SPREAD,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bending:
    """Slope and curvature of every note of every instrument.

    Parameters
    ----------
    cents_per_db, cents_per_db_sd
        Instruments by notes: slope in the middle of the note's range, and its standard deviation.
    curvature
        Instruments by notes: cents per dB squared; pitch is slope * b + curvature * b * b at a
        breath b dB above the middle.
    """

    cents_per_db: Array
    cents_per_db_sd: Array
    curvature: Array


def bending_of(evidence: Evidence) -> Bending:
    """Return how the notes of each instrument bend, from the swells of all its players."""
    octaves = evidence.axes.octaves
    slopes, spreads, curvatures = [], [], []
    of_instrument = defaultdict(list)
    for swell in evidence.swells:
        of_instrument[swell.instrument].append((swell.note, swell.shape))
    for instrument in range(len(evidence.axes.instruments)):
        shapes = of_instrument[instrument]
        curvature, _ = _drawn_together(
            octaves, [(n, s.curvature, s.curvature_error) for n, s in shapes], _CURVATURE
        )
        # A swell shows the slope in its own middle, which is not quite that of the note's range.
        astray = 2.0 * float(np.median(np.abs(curvature))) * _MIDDLE_DB
        slope, slope_sd = _drawn_together(
            octaves,
            [(n, s.cents_per_db, _together(s.cents_per_db_error, astray)) for n, s in shapes],
            _SLOPE,
        )
        slopes.append(np.maximum(slope, 0.5))
        spreads.append(slope_sd)
        curvatures.append(curvature)
    return Bending(
        cents_per_db=np.array(slopes),
        cents_per_db_sd=np.array(spreads),
        curvature=np.array(curvatures),
    )


def _together(error: float | None, more: float) -> float | None:
    return None if error is None else math.hypot(error, more)


def _drawn_together(
    octaves: Array, seen: Sequence[tuple[int, float | None, float | None]], usual: _Usual
) -> tuple[Array, Array]:
    """Return posterior mean and standard deviation of one value per note.

    The prior is a line over the compass with a deviation of every note, whose size is averaged
    over by its evidence.
    """
    known = _of_each_note(seen)
    line = usual.height**2 + usual.tilt**2 * np.outer(octaves, octaves)
    if not len(known.note):
        variance = np.diag(line) + usual.note**2
        return np.full(len(octaves), usual.middle), np.sqrt(variance)
    means, variances, log_weights = [], [], []
    for scale in _SCALES:
        prior = line + (scale * usual.note) ** 2 * np.eye(len(octaves))
        mean, variance, evidence = _given(prior, known, usual.middle)
        means.append(mean)
        variances.append(variance)
        log_weights.append(evidence - 0.5 * (math.log(scale) / _LOG_SCALE_SPREAD) ** 2)
    weight = np.exp(np.array(log_weights) - max(log_weights))
    weight /= weight.sum()
    centre = weight @ np.array(means)
    spread = weight @ (np.array(variances) + (np.array(means) - centre) ** 2)
    return centre, np.sqrt(spread)


@dataclass(frozen=True, slots=True)
class _Seen:
    """Which notes were seen, their values, and the variances of those."""

    note: Numbers
    value: Array
    variance: Array


def _of_each_note(seen: Sequence[tuple[int, float | None, float | None]]) -> _Seen:
    """Return the mean of each note's values, weighted by their errors."""
    known = [(n, v, e) for n, v, e in seen if v is not None and e is not None]
    place, value, error = np.array(known, dtype=float).reshape(-1, 3).T
    where = place.astype(np.intp)
    precision = np.bincount(where, weights=error**-2.0)
    summed = np.bincount(where, weights=value * error**-2.0)
    note = np.flatnonzero(precision)
    return _Seen(note, summed[note] / precision[note], 1.0 / precision[note])


def _given(prior: Array, seen: _Seen, usual: float) -> tuple[Array, Array, float]:
    """Return posterior mean and variance of every note, and the log evidence of what was seen."""
    off = seen.value - usual
    covariance = prior[np.ix_(seen.note, seen.note)] + np.diag(seen.variance)
    weight = np.linalg.inv(covariance)
    seen_through = prior[:, seen.note] @ weight
    variance = np.diag(prior) - np.einsum("ij,ij->i", seen_through, prior[:, seen.note])
    evidence = -0.5 * float(np.linalg.slogdet(covariance)[1] + off @ weight @ off)
    return usual + seen_through @ off, variance, evidence
