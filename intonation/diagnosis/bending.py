"""How the pitch of every note bends with breath: slopes and curvatures, drawn together."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis import magnitudes
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.readings import Array


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
    for instrument in range(len(evidence.axes.instruments)):
        shapes = [(s.note, s.shape) for s in evidence.swells if s.instrument == instrument]
        slope, slope_sd = _drawn_together(
            octaves,
            [(n, s.cents_per_db, s.cents_per_db_error) for n, s in shapes],
            usual=magnitudes.USUAL_CENTS_PER_DB,
            spreads=(
                magnitudes.CENTS_PER_DB_SPREAD,
                magnitudes.CENTS_PER_DB_TILT,
                magnitudes.NOTE_CENTS_PER_DB_SPREAD,
            ),
        )
        curvature, _ = _drawn_together(
            octaves,
            [(n, s.curvature, s.curvature_error) for n, s in shapes],
            usual=magnitudes.USUAL_CURVATURE,
            spreads=(magnitudes.CURVATURE_SPREAD, 0.02, magnitudes.NOTE_CURVATURE_SPREAD),
        )
        slopes.append(np.maximum(slope, 0.5))
        spreads.append(slope_sd)
        curvatures.append(curvature)
    return Bending(
        cents_per_db=np.array(slopes),
        cents_per_db_sd=np.array(spreads),
        curvature=np.array(curvatures),
    )


def _drawn_together(
    octaves: Array,
    seen: Sequence[tuple[int, float | None, float | None]],
    *,
    usual: float,
    spreads: tuple[float, float, float],
) -> tuple[Array, Array]:
    """Return posterior mean and standard deviation of one value per note.

    The prior is a line over the compass with a deviation of every note; ``spreads`` are the
    standard deviations of its height, its slope per octave, and the deviations.
    """
    height, tilt, own = spreads
    prior = height**2 + tilt**2 * np.outer(octaves, octaves) + own**2 * np.eye(len(octaves))
    known = [(n, v, e) for n, v, e in seen if v is not None and e is not None]
    if not known:
        return np.full(len(octaves), usual), np.sqrt(np.diag(prior))
    where = np.array([n for n, _, _ in known], dtype=np.intp)
    precision = np.bincount(where, weights=[1.0 / e**2 for _, _, e in known])
    note = np.flatnonzero(precision)
    summed = np.bincount(where, weights=[v / e**2 for _, v, e in known])
    value = summed[note] / precision[note]
    weight = np.linalg.inv(prior[np.ix_(note, note)] + np.diag(1.0 / precision[note]))
    seen_through = prior[:, note] @ weight
    mean = usual + seen_through @ (value - usual)
    variance = np.diag(prior) - np.einsum("ij,ij->i", seen_through, prior[:, note])
    return mean, np.sqrt(variance)
