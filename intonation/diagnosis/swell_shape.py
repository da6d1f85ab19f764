"""One swell from soft to loud, reduced to its middle, its slope and its bend; breaks left out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_BREAK_CENTS = 14.0
_WILD_LEVEL_DB = 3.0
_SPREADS = 4.0
_LEAST_CENTS = 1.2
_STEPS_FOR_A_BEND = 5
_STEPS_FOR_A_SLOPE = 3
_RANGE_FOR_A_SLOPE_DB = 2.0
_LEVEL_DB, _USUAL_FREEDOM = 0.3, 4.0
"""Usual scatter of the levels of steps, and how many of them that is worth (invented)."""
_BOW_DB = 0.3
"""How far half-way up a crescendo the level usually lies from half-way between its ends."""
_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class SwellShape:
    """What a swell says about its note.

    Parameters
    ----------
    middle_cents, middle_db
        Pitch and level in the middle of the range; the level is None if unknown.
    soft_db, loud_db
        Ends of the range; None if unknown.
    soft_cents, loud_cents
        Pitch at the ends.
    cents_per_db, cents_per_db_error
        Slope in the middle and its standard error; None if it cannot be told.
    curvature, curvature_error
        Cents per dB squared, and standard error; None with fewer than five steps.
    """

    middle_cents: float
    middle_db: float | None = None
    soft_db: float | None = None
    loud_db: float | None = None
    soft_cents: float
    loud_cents: float
    cents_per_db: float | None = None
    cents_per_db_error: float | None = None
    curvature: float | None = None
    curvature_error: float | None = None

    @property
    def range_db(self) -> float | None:
        """Width of the range, None if the level is unknown."""
        if self.soft_db is None or self.loud_db is None:
            return None
        return self.loud_db - self.soft_db


def swell_shape(cents: Array, level_db: Array) -> SwellShape:
    """Return the shape of a swell.

    Parameters
    ----------
    cents, level_db
        One value per step, from soft to loud; an unknown level is NaN.
    """
    known = np.isfinite(level_db)
    if known.sum() < _STEPS_FOR_A_SLOPE:
        return _without_level(cents)
    step = np.flatnonzero(known).astype(float)
    return _shapes(cents[None, known], level_db[None, known], step)[0]


def swell_shapes(cents: Array, level_db: Array, *, steps: Sequence[int]) -> list[SwellShape]:
    """Return the shapes of many swells at once; each as for ``swell_shape``.

    Parameters
    ----------
    cents, level_db
        Of all steps of the first swell, then of the second, and so on.
    steps
        How many steps each swell has.
    """
    length = np.array(steps, dtype=np.intp)
    start = np.cumsum(length) - length
    found: dict[int, SwellShape] = {}
    for count in np.unique(length).tolist():
        swells = np.flatnonzero(length == count)
        at = start[swells][:, None] + np.arange(count)
        found |= dict(zip(swells.tolist(), _of_equal_length(cents[at], level_db[at]), strict=True))
    return [found[i] for i in range(len(steps))]


def _of_equal_length(cents: Array, level_db: Array) -> list[SwellShape]:
    """Return the shapes of swells (S, K) of K steps."""
    steps = cents.shape[1]
    whole = np.isfinite(level_db).all(axis=1) & (steps >= _STEPS_FOR_A_SLOPE)
    if not whole.any():
        return [swell_shape(*swell) for swell in zip(cents, level_db, strict=True)]
    shapes = iter(_shapes(cents[whole], level_db[whole], np.arange(steps, dtype=float)))
    return [
        next(shapes) if one else swell_shape(cents[i], level_db[i]) for i, one in enumerate(whole)
    ]


def _without_level(cents: Array) -> SwellShape:
    step = np.arange(len(cents), dtype=float)
    kept = _unbroken(step[None], cents[None])[0]
    return SwellShape(
        middle_cents=float(np.median(cents[kept])),
        soft_cents=float(cents[kept][0]),
        loud_cents=float(cents[kept][-1]),
    )


def _shapes(cents: Array, level_db: Array, step: Array) -> list[SwellShape]:
    """Return the shapes of swells (S, K) whose K levels are all known, at the same K steps."""
    level = _tamed(step, level_db)
    low, high = level.min(axis=1), level.max(axis=1)
    kept = _unbroken(level, cents)
    narrow = high - low < _RANGE_FOR_A_SLOPE_DB
    curved = ~narrow & (kept.sum(axis=1) >= _STEPS_FOR_A_BEND)
    found: dict[int, SwellShape] = {}
    for i in np.flatnonzero(narrow).tolist():
        found[i] = _too_narrow(cents[i], float(low[i]), float(high[i]))
    middle = _middles(step, level)
    for chosen, degree in ((curved, 2), (~narrow & ~curved, 1)):
        at = np.flatnonzero(chosen)
        fits = _fitted(cents[at], level[at], kept[at], middle[at], degree) if len(at) else []
        found |= dict(zip(at.tolist(), fits, strict=True))
    return [found[i] for i in range(len(cents))]


def _too_narrow(cents: Array, low: float, high: float) -> SwellShape:
    middle = float(np.median(cents))
    return SwellShape(
        middle_cents=middle,
        middle_db=(low + high) / 2.0,
        soft_db=low,
        loud_db=high,
        soft_cents=middle,
        loud_cents=middle,
    )


def _fitted(
    cents: Array, level: Array, kept: NDArray[np.bool_], middle: Array, degree: int
) -> Iterator[SwellShape]:
    """Yield the shapes of swells by least squares on the steps that are kept."""
    low, high = level.min(axis=1), level.max(axis=1)
    powers = _powers(level - middle[:, None], degree)
    weighted = powers * kept[:, :, None]
    squares = weighted.transpose(0, 2, 1) @ powers
    normal = np.linalg.inv(squares + _TINY * np.eye(degree + 1))
    curve = (normal @ (weighted.transpose(0, 2, 1) @ cents[:, :, None]))[:, :, 0]
    residual = (cents - (powers @ curve[:, :, None])[:, :, 0]) * kept
    freedom = np.maximum(kept.sum(axis=1) - degree - 1, 1)
    scatter = np.maximum((residual**2).sum(axis=1) / freedom, _LEAST_CENTS**2)
    errors = np.sqrt(scatter[:, None] * np.diagonal(normal, axis1=1, axis2=2))
    at_ends = _powers(np.stack([low, high], axis=1) - middle[:, None], degree)
    ends = (at_ends @ curve[:, :, None])[:, :, 0]
    names = ["soft_db", "middle_db", "loud_db", "soft_cents", "loud_cents"]
    names += ["middle_cents", "cents_per_db", "curvature"][: degree + 1]
    names += ["cents_per_db_error", "curvature_error"][:degree]
    columns = (low, middle, high, *ends.T, *curve.T, *errors.T[1:])
    for values in zip(*(column.tolist() for column in columns), strict=True):
        yield SwellShape(**dict(zip(names, values, strict=True)))


def _middles(step: Array, level: Array) -> Array:
    """Return the level half-way between the ends of each swell, from all of its steps.

    The two ends alone carry the chance of two tones. A crescendo is nearly even, so its steps are
    fitted by a line with a bow, and the bow counts as far as it stands out from what is left over.
    """
    place = 2.0 * (step - step[0]) / (step[-1] - step[0]) - 1.0
    bow = place**2 - np.mean(place**2)
    line = np.stack([np.ones_like(place), place], axis=1)
    bow = bow - line @ np.linalg.lstsq(line, bow, rcond=None)[0]
    strength = float(bow @ bow)
    if strength < _TINY:
        ends: Array = (level.min(axis=1) + level.max(axis=1)) / 2.0
        return ends
    along = level @ np.linalg.pinv(line).T
    bent = level @ bow / strength
    left = level - along @ line.T - bent[:, None] * bow
    freedom = len(step) - 3
    chance = (_USUAL_FREEDOM * _LEVEL_DB**2 + (left**2).sum(axis=1)) / (_USUAL_FREEDOM + freedom)
    rise = (bow[0] + bow[-1]) / 2.0
    trust = _BOW_DB**2 / (_BOW_DB**2 + rise**2 * chance / strength)
    middle: Array = along[:, 0] + trust * bent * rise
    return middle


def _tamed(step: Array, level_db: Array) -> Array:
    """Replace levels that fall out of the crescendo by what its other steps make of them."""
    line = _median_lines(np.broadcast_to(step, level_db.shape), level_db)
    off = np.abs(level_db - line)
    limit = np.maximum(_WILD_LEVEL_DB, _SPREADS * 1.4826 * np.median(off, axis=1))
    return np.where(off > limit[:, None], line, level_db)


def _unbroken(position: Array, cents: Array) -> NDArray[np.bool_]:
    """Return which steps belong to the same sound: not broken over, squeaked or mistaken."""
    off = np.abs(cents - _median_lines(position, cents))
    limit = np.maximum(_BREAK_CENTS, _SPREADS * 1.4826 * np.median(off, axis=1))
    kept: NDArray[np.bool_] = off <= limit[:, None]
    return kept


def _median_lines(position: Array, value: Array) -> Array:
    """Return the values (S, K) on the lines of median slopes (Theil 1950, Sen 1968)."""
    first, second = _couples(position.shape[1])
    distance = position[:, second] - position[:, first]
    apart = np.abs(distance) > _TINY
    slopes = (value[:, second] - value[:, first]) / np.where(apart, distance, 1.0)
    slope = _median_of_known(slopes, apart)[:, None]
    start = np.median(value - slope * position, axis=1)[:, None]
    return start + slope * position


def _median_of_known(values: Array, known: NDArray[np.bool_]) -> Array:
    """Return the median of the known values of every row; 0 where none is known."""
    if not values.shape[1]:
        return np.zeros(len(values))
    ordered = np.sort(np.where(known, values, np.inf), axis=1)
    count, row = known.sum(axis=1), np.arange(len(values))
    lower = ordered[row, np.maximum(count - 1, 0) // 2]
    upper = ordered[row, np.minimum(count // 2, values.shape[1] - 1)]
    return np.where(count > 0, (lower + upper) / 2.0, 0.0)


@cache
def _couples(count: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    first, second = np.triu_indices(count, k=1)
    return first, second


def _powers(offset: Array, degree: int) -> Array:
    return np.stack([offset**power for power in range(degree + 1)], axis=-1)
