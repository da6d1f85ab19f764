"""How single readings scatter: from note to note in a sitting, and from sitting to sitting."""

from dataclasses import dataclass

import numpy as np

from intonation.habits.played import Array, Numbers

_CLIPPED_AT = 2.5
_MAD_TO_SD = 1.4826
_NOTE_WORTH = 10.0
_PRIOR_WORTH = 4.0
"""A note's own scatter counts as so many readings of the common one, and the common one as so many
of what is usual, so that a short record is not taken to be steadier than it is (design
judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """What scatter to expect before anything is known, as standard deviations.

    Parameters
    ----------
    within, between
        Of readings within a sitting, and of a note's mean from sitting to sitting.
    """

    within: float
    between: float


PITCH = Usual(within=5.0, between=4.0)
"""In cents (design judgement; experienced wind players scatter by 6.5 cents against equal
temperament: R. Kopiez, Music Perception 20 (2003) 383, abstract)."""

DRIFT = Usual(within=2.0, between=1.0)
"""In cents per second (design judgement)."""


@dataclass(frozen=True, slots=True, eq=False)
class Readings:
    """Readings of one kind, grouped by note and sitting.

    Parameters
    ----------
    value
        The readings, those far out pulled in.
    note, sitting, group
        Of each reading; a group is one note in one sitting.
    group_note, group_sitting, group_count, group_mean
        Of each group.
    within
        Variance of single readings within a sitting, for each note.
    between
        Variance of a note's mean from sitting to sitting.
    shared
        Share of ``between`` that all notes of a sitting have in common: a cold room, a cold player.
    """

    value: Array
    note: Numbers
    sitting: Numbers
    group: Numbers
    group_note: Numbers
    group_sitting: Numbers
    group_count: Array
    group_mean: Array
    within: Array
    between: float
    shared: float

    @property
    def group_variance(self) -> Array:
        """Variance of each group's mean."""
        return self.between + self.within[self.group_note] / self.group_count

    @property
    def notes(self) -> int:
        """Number of different notes, whether or not they have readings."""
        return len(self.within)


def readings_from(
    value: Array, *, note: Numbers, sitting: Numbers, notes: int, usual: Usual
) -> Readings:
    """Return readings with their scatter.

    Parameters
    ----------
    value, note, sitting
        Readings, and the note and sitting of each, numbered from 0.
    notes
        Number of different notes.
    usual
        What scatter is expected.

    Notes
    -----
    Readings beyond 2.5 robust standard deviations of their note's median are pulled in to that
    bound, which is Huber's way of letting no single reading decide (P. J. Huber, Ann. Math. Stat.
    35 (1964) 73; from memory). The variance from sitting to sitting is the estimator of R.
    DerSimonian & N. Laird (Controlled Clinical Trials 7 (1986) 177; from memory), pooled over
    notes.
    """
    value = _pulled_in(value, note, notes)
    sittings = int(sitting.max(initial=-1)) + 1
    keys, group = np.unique(note * max(1, sittings) + sitting, return_inverse=True)
    group = group.astype(np.intp)
    group_note, group_sitting = keys // max(1, sittings), keys % max(1, sittings)
    count = np.bincount(group, minlength=len(keys)).astype(np.float64)
    mean = np.bincount(group, weights=value, minlength=len(keys)) / count
    within = _within(value - mean[group], count, note, group_note, notes, usual.within)
    between, residual = _between(mean, count, group_note, within, usual.between)
    shared = _shared(residual, group_sitting, between)
    return Readings(
        value, note, sitting, group, group_note, group_sitting, count, mean, within, between, shared
    )


def robust_spread(value: Array) -> float:
    """Return the standard deviation of readings without regard to those far out."""
    return float(_MAD_TO_SD * np.median(np.abs(value - np.median(value))))


def _pulled_in(value: Array, note: Numbers, notes: int) -> Array:
    result = value.copy()
    everywhere = max(1.0, robust_spread(value)) if value.size else 1.0
    for one in range(notes):
        own = note == one
        if not own.any():
            continue
        middle = np.median(value[own])
        # a few equal readings must not pull in the next one
        bound = _CLIPPED_AT * max(0.5 * everywhere, robust_spread(value[own]))
        result[own] = np.clip(value[own], middle - bound, middle + bound)
    return result


def _within(
    residual: Array,
    count: Array,
    note: Numbers,
    group_note: Numbers,
    notes: int,
    usual: float,
) -> Array:
    squares = np.bincount(note, weights=residual**2, minlength=notes)
    freedom = np.bincount(group_note, weights=count - 1.0, minlength=notes)
    common = (squares.sum() + _PRIOR_WORTH * usual**2) / (freedom.sum() + _PRIOR_WORTH)
    own: Array = (squares + _NOTE_WORTH * common) / (freedom + _NOTE_WORTH)
    return own


def _between(
    mean: Array, count: Array, group_note: Numbers, within: Array, usual: float
) -> tuple[float, Array]:
    """Return the variance from sitting to sitting, and each group's distance from its note."""
    notes = len(within)
    weight = count / within[group_note]
    total = np.bincount(group_note, weights=weight, minlength=notes)
    sums = np.bincount(group_note, weights=weight * mean, minlength=notes)
    note_mean = np.divide(sums, total, out=np.zeros(notes), where=total > 0)
    residual = mean - note_mean[group_note]
    freedom = float(len(mean) - (total > 0).sum())
    squares = np.bincount(group_note, weights=weight**2, minlength=notes)
    scale = float((total - np.divide(squares, total, out=np.zeros(notes), where=total > 0)).sum())
    excess = float((weight * residual**2).sum()) - freedom
    estimate = max(0.0, excess / scale) if scale > 0 else 0.0
    known = (freedom * estimate + _PRIOR_WORTH * usual**2) / (freedom + _PRIOR_WORTH)
    return float(known), residual


def _shared(residual: Array, group_sitting: Numbers, between: float) -> float:
    """Return the share that the notes of a sitting have in common, from their products."""
    sums = np.bincount(group_sitting, weights=residual)
    squares = np.bincount(group_sitting, weights=residual**2)
    size = np.bincount(group_sitting).astype(np.float64)
    pairs = float((size**2 - size).sum())
    sittings = float((size > 1).sum())
    covariance = float((sums**2 - squares).sum()) / pairs if pairs > 0 else 0.0
    share = min(max(covariance / between, 0.0), 1.0)
    freedom = max(0.0, sittings - 1.0)
    return (freedom * share + _PRIOR_WORTH * 0.5) / (freedom + _PRIOR_WORTH)
