"""All held notes of a pair, however many, reduced to what they say of its notes.

A pair has four unknowns a note: the instrument's offset, what the fingers do, the usual breath and
the level at the middle of the note's range. Their information matrix and vector are sums over
readings, less what each sitting's own unknowns (pitch, warm-up, drift, gain, mood, swelling) take
away; they add up, so new sessions only add to one pair's matrix.
"""

from dataclasses import dataclass

import numpy as np

from intonation.diagnosis import magnitudes
from intonation.diagnosis.bending import Bending
from intonation.diagnosis.effects import Setting, habit_cents
from intonation.diagnosis.evidence import Evidence, median_of_each
from intonation.diagnosis.magnitudes import FIXED
from intonation.diagnosis.readings import Array, Flags, Numbers, Readings, distinct

UNKNOWNS = 4
"""Of a note: instrument, fingers, breath, loudness; in this order throughout."""
_UNKNOWN_LEVEL = 1e6
_WARM_UP_MINUTES = 4.0
_DRIFT_MINUTES = 8.0
_UNUSUAL = 2.5
_SITTING_SD = (
    FIXED.mean_cents,
    FIXED.warm_up_cents,
    FIXED.drift_cents,
    FIXED.gain_db,
    FIXED.mood_db,
    FIXED.swell_db,
)


@dataclass(frozen=True, slots=True)
class PairInformation:
    """What all readings of a pair say, in Gaussian information form.

    Parameters
    ----------
    player, instrument
        Indices into the axes.
    matrix
        (4 N, 4 N): information on instrument, fingers, breath and loudness of the N notes of the
        axes, one after the other.
    vector
        (4 N,): information times value.
    seen
        (N,): which notes the pair has played.
    """

    player: int
    instrument: int
    matrix: Array
    vector: Array
    seen: Flags


def pair_information(
    evidence: Evidence, bending: Bending, *, log_size: Array, setting: Setting
) -> list[PairInformation]:
    """Return the information of every pair.

    Parameters
    ----------
    evidence
        Any number of readings.
    bending
        How the notes bend.
    log_size
        Log sizes of the free effects.
    setting
        What is taken for granted.
    """
    readings = evidence.readings
    pairs = distinct(readings.player, readings.instrument)
    own = readings.player * len(evidence.axes.instruments) + readings.instrument
    order = np.argsort(own, kind="stable")
    ends = np.searchsorted(own[order], np.unique(own), side="right")
    starts = np.concatenate([[0], ends[:-1]])
    sizes = np.exp(log_size)
    found = []
    for (player, instrument), start, end in zip(pairs, starts, ends, strict=True):
        chosen = readings.where(order[start:end])
        cells = _cells(chosen, evidence, bending, sizes, setting)
        matrix, vector = _summed(cells, len(evidence.axes.notes))
        seen = np.bincount(chosen.note, minlength=len(evidence.axes.notes)) > 0
        found.append(PairInformation(int(player), int(instrument), matrix, vector, seen))
    return found


@dataclass(frozen=True, slots=True)
class _Cells:
    """Means of equal readings of a sitting: pitch and level, what acts on them, how surely.

    Shapes: observed (C, 2), own (C, 2, 4), sitting (C, 2, 6), weight (C, 2, 2), note (C,),
    group (C,).
    """

    observed: Array
    own: Array
    sitting: Array
    weight: Array
    note: Numbers
    group: Numbers


def _cells(
    readings: Readings, evidence: Evidence, bending: Bending, sizes: Array, setting: Setting
) -> _Cells:
    notes = len(evidence.axes.notes)
    place = readings.sitting * len(evidence.axes.positions) + readings.position
    _, group = np.unique(place, return_inverse=True)
    role = 4 * readings.exact + 2 * readings.middle + readings.matched
    key = (group * notes + readings.note) * 8 + role
    _, first, cell, count = np.unique(
        key, return_index=True, return_inverse=True, return_counts=True
    )
    breath = _usual_breath(readings, notes)
    curvature = bending.curvature[readings.instrument, readings.note]
    slope = bending.cents_per_db[readings.instrument, readings.note] + 2.0 * curvature * breath
    pitch = readings.cents + curvature * breath**2
    known = np.isfinite(readings.level_db)
    levels = np.bincount(cell, weights=known)
    level_sum = np.bincount(cell, weights=np.where(known, readings.level_db, 0.0))
    head = readings.where(first)
    minutes = np.bincount(cell, weights=np.nan_to_num(readings.minutes, nan=4.0)) / count
    unusual = _unusual(readings, pitch, group)
    widest = np.bincount(cell, weights=unusual) / count**2
    noise = _noise(head, evidence, slope[first], sizes, (count.astype(float), levels.astype(float)))
    noise[:, 0, 0] += widest
    return _Cells(
        observed=np.stack(
            [np.bincount(cell, weights=pitch) / count, level_sum / np.maximum(levels, 1)], axis=1
        ),
        own=_own(head, slope[first], setting),
        sitting=_sitting(head, slope[first], minutes),
        weight=np.asarray(np.linalg.inv(noise), dtype=np.float64),
        note=head.note,
        group=group[first],
    )


def _usual_breath(readings: Readings, notes: int) -> Array:
    """Guess the usual breath on each note from its levels above the middles of its swells."""
    usual = ~readings.middle & ~readings.matched & np.isfinite(readings.level_db)
    middle = readings.middle & np.isfinite(readings.level_db)
    at_usual = median_of_each(readings.note[usual], readings.level_db[usual], notes)
    at_middle = median_of_each(readings.note[middle], readings.level_db[middle], notes)
    both = np.bincount(readings.note[usual], minlength=notes) > 0
    both &= np.bincount(readings.note[middle], minlength=notes) > 0
    breath = np.clip(np.where(both, at_usual - at_middle, 0.0), -6.0, 6.0)
    return np.where(readings.middle | readings.matched, 0.0, breath[readings.note])


def _unusual(readings: Readings, pitch: Array, group: Numbers) -> Array:
    """Return the variance that makes a reading far from its note's others merely unusual."""
    day = median_of_each(group, pitch, int(group.max()) + 1)
    rest = pitch - day[group]
    role = readings.note * 8 + 4 * readings.exact + 2 * readings.middle + readings.matched
    _, kind = np.unique(role, return_inverse=True)
    kinds = int(kind.max()) + 1
    rest = rest - median_of_each(kind, rest, kinds)[kind]
    spread = np.maximum(1.4826 * median_of_each(kind, np.abs(rest), kinds)[kind], 2.0)
    excess = (rest / _UNUSUAL) ** 2 - spread**2
    return np.where(np.abs(rest) > _UNUSUAL * spread, excess, 0.0)


def _noise(
    head: Readings, evidence: Evidence, slope: Array, sizes: Array, counts: tuple[Array, Array]
) -> Array:
    """Return the covariance (C, 2, 2) of a cell's mean pitch and level."""
    count, levels = counts
    size = dict(zip(magnitudes.FREE, np.array(magnitudes.SIZES) * sizes, strict=True))
    breath = np.where(head.middle, size["middle"], size["breath repeat"])
    breath = np.where(head.matched, FIXED.matched_db, np.where(head.loose, 1.6 * breath, breath))
    breath = breath**2 / count
    again = np.where(head.exact, FIXED.exact_again * habit_cents(evidence.axes)[head.note], 0.0)
    extra = np.where(head.matched, FIXED.shading_cents, np.where(head.loose, FIXED.loose_cents, 0))
    pitch = size["day"] ** 2 + (again * size["habit"]) ** 2
    pitch = pitch + (extra**2 + size["pitch"] ** 2) / count
    level = size["room"] ** 2 + FIXED.level_db**2 / np.maximum(levels, 1)
    level = np.where(levels > 0, level, _UNKNOWN_LEVEL)
    noise = np.empty((len(head), 2, 2))
    noise[:, 0, 0] = slope**2 * breath + pitch
    noise[:, 0, 1] = noise[:, 1, 0] = slope * breath
    noise[:, 1, 1] = breath + level
    return noise


def _own(head: Readings, slope: Array, setting: Setting) -> Array:
    usual = (~head.middle & ~head.matched).astype(float)
    own = np.zeros((len(head), 2, UNKNOWNS))
    own[:, 0, 0] = 1.0
    own[:, 0, 1] = np.where(head.exact, setting.exact_share, 1.0)
    own[:, 0, 2] = slope * usual
    own[:, 1, 2] = usual
    own[:, 1, 3] = 1.0
    return own


def _sitting(head: Readings, slope: Array, minutes: Array) -> Array:
    usual = (~head.middle & ~head.matched).astype(float)
    middle = head.middle.astype(float)
    sitting = np.zeros((len(head), 2, len(_SITTING_SD)))
    sitting[:, 0, 0] = 1.0
    sitting[:, 0, 1] = -np.exp(-minutes / _WARM_UP_MINUTES)
    sitting[:, 0, 2] = (minutes - _WARM_UP_MINUTES) / _DRIFT_MINUTES
    sitting[:, 1, 3] = 1.0
    for column, acts in ((4, usual), (5, middle)):
        sitting[:, 0, column] = slope * acts
        sitting[:, 1, column] = acts
    return sitting


def _summed(cells: _Cells, notes: int) -> tuple[Array, Array]:
    """Return information matrix and vector, the sittings' unknowns integrated out."""
    weighted = cells.own.transpose(0, 2, 1) @ cells.weight
    groups = int(cells.group.max()) + 1
    kinds = cells.sitting.shape[2]
    blocks = _added(weighted @ cells.own, cells.note, notes)
    vector = _added(np.einsum("cij,cj->ci", weighted, cells.observed), cells.note, notes)
    shared = _added(weighted @ cells.sitting, cells.group * notes + cells.note, groups * notes)
    theirs = cells.sitting.transpose(0, 2, 1) @ cells.weight
    inner = _added(theirs @ cells.sitting, cells.group, groups)
    inner += np.diag(1.0 / np.square(_SITTING_SD))
    seen = _added(np.einsum("cij,cj->ci", theirs, cells.observed), cells.group, groups)
    by_unknown = shared.reshape(groups, notes, UNKNOWNS, kinds).transpose(0, 2, 1, 3)
    across = by_unknown.reshape(groups, UNKNOWNS * notes, kinds)
    solved = across @ np.linalg.inv(inner)
    flat = solved.transpose(1, 0, 2).reshape(UNKNOWNS * notes, -1)
    matrix = -flat @ across.transpose(0, 2, 1).reshape(-1, UNKNOWNS * notes)
    total = vector.T.ravel() - flat @ seen.ravel()
    index = np.arange(notes)
    for i in range(UNKNOWNS):
        for j in range(UNKNOWNS):
            matrix[i * notes + index, j * notes + index] += blocks[:, i, j]
    return matrix, total


def _added(values: Array, group: Numbers, groups: int) -> Array:
    """Return the sums of values (C, ...) over each group."""
    flat = values.reshape(len(values), -1)
    columns = [np.bincount(group, weights=c, minlength=groups).astype(float) for c in flat.T]
    sums = np.stack(columns, axis=1)
    return sums.reshape(groups, *values.shape[1:])
