"""Which fault, or which two, best explain how an instrument's notes lie."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from intonation.workshop.compass import Cents
from intonation.workshop.explanations import (
    LOOKALIKE,
    Explanations,
    alikeness,
    explanations_of,
)
from intonation.workshop.faults import Cause

_Z90 = 1.645
_APART_CENTS = 1.0
_MOST_NOTES_APART = 3
_PROBABLY_TWO = 0.5


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
        Notes whose further measurement would best separate it from its rival: the first cause, or
        the second where two are there at once.
    widest_octave
        Lower note of the octave that it makes too wide or narrow most, and by how many cents.
    beside_first
        Whether it is probably there together with the first.
    """

    cause: Cause
    look_alikes: tuple[Cause, ...]
    probability: float
    size_cents: float
    low_cents: float
    high_cents: float
    tell_apart_midi: tuple[int, ...] = ()
    widest_octave: tuple[int, float] | None = None
    beside_first: bool = False


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
    A fault's probability sums over all explanations that have it (`explanations_of`). Where there
    are probably two faults, those two stand first that explain the notes best together.
    """
    measured = np.flatnonzero(np.isfinite(offset_cents))
    notes = np.asarray(midi, dtype=float)[measured]
    heard = [cause.over(measured.tolist()) for cause in causes]
    error = covariance[np.ix_(measured, measured)]
    fits = explanations_of(heard, notes, offset_cents[measured], error)
    alike = alikeness(np.array([cause.pattern for cause in heard]), notes)
    groups = _groups(fits, alike)
    pair = _probable_pair(groups, fits)
    others = [_ranked(causes, group, fits, midi) for group in groups if group not in pair]
    others.append(_sound(fits, len(midi)))
    first = [_ranked(causes, group, fits, midi) for group in pair]
    return _told_apart(_by_probability(first), _by_probability(others), midi)


def _by_probability(entries: Sequence[RankedCause]) -> list[RankedCause]:
    return sorted(entries, key=lambda entry: -entry.probability)


def _probable_pair(groups: Sequence[list[int]], fits: Explanations) -> tuple[list[int], ...]:
    """Return the two causes that explain best together; none where there are hardly two."""
    if fits.chance_of_two <= _PROBABLY_TWO:
        return ()
    return max(combinations(groups, 2), key=lambda pair: fits.chance_of_both(*pair))


def _groups(fits: Explanations, alike: NDArray[np.float64]) -> list[list[int]]:
    """Return causes that cannot be told apart together, each group's most probable one first."""
    chances = [fits.chance_of([i]) for i in range(len(alike))]
    groups: list[list[int]] = []
    for cause in sorted(range(len(alike)), key=lambda i: -chances[i]):
        group = next((g for g in groups if alike[g[0], cause] > LOOKALIKE), None)
        if group is None:
            groups.append([cause])
        else:
            group.append(cause)
    return groups


def _ranked(
    causes: Sequence[Cause], group: Sequence[int], fits: Explanations, midi: Sequence[int]
) -> RankedCause:
    mean, sd = fits.size_of(group[0])
    return RankedCause(
        cause=causes[group[0]],
        look_alikes=tuple(causes[i] for i in group[1:]),
        probability=fits.chance_of(group),
        size_cents=mean,
        low_cents=mean - _Z90 * sd,
        high_cents=mean + _Z90 * sd,
        widest_octave=_widest_octave(causes[group[0]], mean, midi),
    )


def _widest_octave(
    cause: Cause, size_cents: float, midi: Sequence[int]
) -> tuple[int, float] | None:
    moved = {m: size_cents * cents for m, cents in zip(midi, cause.pattern, strict=True)}
    widths = [(low, moved[low + 12] - moved[low]) for low in moved if low + 12 in moved]
    return max(widths, key=lambda width: abs(width[1]), default=None)


def _sound(fits: Explanations, notes: int) -> RankedCause:
    none = Cause(kind="none", pattern=(0.0,) * notes)
    return RankedCause(
        cause=none,
        look_alikes=(),
        probability=float(fits.probability[0]),
        size_cents=0.0,
        low_cents=0.0,
        high_cents=0.0,
    )


def _told_apart(
    pair: Sequence[RankedCause], others: Sequence[RankedCause], midi: Sequence[int]
) -> tuple[RankedCause, ...]:
    """Return all causes in order, each with the notes that would separate it from its rival."""
    ranked = [*pair, *others]
    rival = pair[-1] if pair else ranked[0]
    beside = [replace(entry, beside_first=place == 1) for place, entry in enumerate(pair)]
    return (*beside, *(_apart_from(entry, rival, midi) for entry in others))


def _apart_from(entry: RankedCause, rival: RankedCause, midi: Sequence[int]) -> RankedCause:
    drawn, drawn_by_rival = (
        each.size_cents * np.asarray(each.cause.pattern) for each in (entry, rival)
    )
    difference = np.abs(drawn - drawn_by_rival)
    best = np.argsort(-difference)[:_MOST_NOTES_APART]
    apart = sorted(int(midi[i]) for i in best if difference[i] > _APART_CENTS)
    return replace(entry, tell_apart_midi=tuple(apart))
