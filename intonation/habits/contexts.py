"""What else a note's pitch goes with: the note before, its length, its loudness, the reference."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from intonation.habits.played import Array, Played
from intonation.habits.pooling import Pooled, pooled
from intonation.habits.scatter import DRIFT, Readings, readings_from
from intonation.habits.slopes import means_by_note, slopes_by_note

ContextName = Literal[
    "from above", "from below", "after a leap", "with a reference", "in melodies", "louder", "long"
]

LEAP_SEMITONES = 5
"""From a fourth on, moving to a note is a leap (design judgement)."""

LONG_S = 3.0
"""A note of this length is a long one (design judgement)."""

LOUDER_DB = 6.0
"""Loud and soft are compared over this difference of level."""

_FEWEST_OF_EACH = 4
_FEWEST_SITTINGS_OF_EACH = 2
_FEWEST_SITTINGS = 3

Chosen = NDArray[np.bool_]
_Truth = Callable[[Played, Array], Chosen]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Comparison:
    """Notes of which something is so beside notes of which it is not.

    Parameters
    ----------
    counts
        Which notes are compared at all, from the notes and the semitones moved to each.
    is_so
        Of which of them it is so.
    by_sitting
        Whether whole sittings may differ in it, so that some of each are needed.
    """

    counts: _Truth
    is_so: _Truth
    by_sitting: bool = False


def _after_another(_: Played, moved: Array) -> Chosen:
    another: Chosen = np.nan_to_num(moved) != 0.0
    return another


def _step(moved: Array) -> Chosen:
    near: Chosen = np.abs(np.nan_to_num(moved)) < LEAP_SEMITONES
    return near


_COMPARED: dict[ContextName, _Comparison] = {
    "from above": _Comparison(
        counts=_after_another, is_so=lambda _, moved: (moved < 0) & _step(moved)
    ),
    "from below": _Comparison(
        counts=_after_another, is_so=lambda _, moved: (moved > 0) & _step(moved)
    ),
    "after a leap": _Comparison(counts=_after_another, is_so=lambda _, moved: ~_step(moved)),
    "with a reference": _Comparison(
        counts=lambda played, _: ~played.melody,
        is_so=lambda played, _: played.reference,
        by_sitting=True,
    ),
    "in melodies": _Comparison(
        counts=lambda played, _: np.ones(len(played), dtype=bool),
        is_so=lambda played, _: played.melody,
        by_sitting=True,
    ),
}


def contexts_of(played: Played, pitch: Readings) -> dict[ContextName, Pooled]:
    """Return for every context what it does to each note.

    Parameters
    ----------
    played
        The notes.
    pitch
        Their pitch as readings, place for place.

    Returns
    -------
    dict of Pooled
        Cents that a note is higher where it is so than where it is not; for ``"louder"``, cents for
        6 dB more; for ``"long"``, the drift of long notes in cents per second. A note of which too
        few were played so, or otherwise, has none.
    """
    moved = played.midi - played.previous_midi
    found = {
        name: _compared(played, pitch, comparison, moved) for name, comparison in _COMPARED.items()
    }
    return {**found, "louder": _louder(played, pitch), "long": _long(played)}


def _compared(played: Played, pitch: Readings, how: _Comparison, moved: Array) -> Pooled:
    chosen = how.counts(played, moved)
    is_so = how.is_so(played, moved)[chosen].astype(np.float64)
    some = _part(pitch, chosen)
    slope, variance = slopes_by_note(some, is_so)
    enough = _enough(some, is_so, how.by_sitting)
    unknown = np.where(enough, 0.0, np.nan)
    shared = pitch.shared if how.by_sitting else 0.0
    return pooled(slope + unknown, variance + unknown, shared=shared)


def _part(pitch: Readings, chosen: Chosen) -> Readings:
    """Return some of the readings with the scatter that is known from all of them."""
    keys, group = np.unique(pitch.group[chosen], return_inverse=True)
    group = group.astype(np.intp)
    value = pitch.value[chosen]
    count = np.bincount(group, minlength=len(keys)).astype(np.float64)
    mean = np.bincount(group, weights=value, minlength=len(keys)) / np.maximum(count, 1.0)
    return Readings(
        value,
        pitch.note[chosen],
        pitch.sitting[chosen],
        group,
        pitch.group_note[keys],
        pitch.group_sitting[keys],
        count,
        mean,
        pitch.within,
        pitch.between,
        pitch.shared,
    )


def _enough(some: Readings, is_so: Array, by_sitting: bool) -> Chosen:
    """Return of which notes enough were played in both ways."""
    so = np.bincount(some.note, weights=is_so, minlength=some.notes)
    otherwise = np.bincount(some.note, weights=1.0 - is_so, minlength=some.notes)
    enough: Chosen = np.minimum(so, otherwise) >= _FEWEST_OF_EACH
    if by_sitting:
        sittings = {kind: len(np.unique(some.sitting[is_so == kind])) for kind in (0.0, 1.0)}
        enough &= min(sittings.values()) >= _FEWEST_SITTINGS_OF_EACH
    return enough


def _louder(played: Played, pitch: Readings) -> Pooled:
    """Return what 6 dB more do; levels can be compared within a sitting only."""
    chosen = ~np.isnan(played.level_db)
    some = _part(pitch, chosen)
    level_db = played.level_db[chosen]
    mean_db = np.bincount(some.group, weights=level_db) / np.maximum(some.group_count, 1.0)
    louder = (level_db - mean_db[some.group]) / LOUDER_DB
    slope, variance = slopes_by_note(some, louder)
    compared = np.bincount(some.note, weights=louder != 0.0, minlength=some.notes)
    unknown = np.where(compared >= 2 * _FEWEST_OF_EACH, 0.0, np.nan)
    return pooled(slope + unknown, variance + unknown)


def _long(played: Played) -> Pooled:
    chosen = (played.duration_s >= LONG_S) & ~np.isnan(played.drift_cents_per_s)
    drift = readings_from(
        played.drift_cents_per_s[chosen],
        note=played.note[chosen],
        sitting=played.sitting[chosen],
        notes=len(played.notes),
        usual=DRIFT,
    )
    mean, variance = means_by_note(drift)
    counts = np.bincount(drift.note, minlength=drift.notes)
    enough = (counts >= _FEWEST_OF_EACH) & (len(np.unique(drift.sitting)) >= _FEWEST_SITTINGS)
    unknown = np.where(enough, 0.0, np.nan)
    return pooled(mean + unknown, variance + unknown, shared=drift.shared)
