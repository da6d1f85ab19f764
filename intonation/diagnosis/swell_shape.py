"""One swell from soft to loud, reduced to its middle, its slope and its bend; breaks left out."""

from dataclasses import dataclass, replace
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

    def moved_db(self, by_db: float) -> "SwellShape":
        """Return the swell with all its levels moved together."""
        if self.middle_db is None or self.soft_db is None or self.loud_db is None:
            return self
        return replace(
            self,
            middle_db=self.middle_db + by_db,
            soft_db=self.soft_db + by_db,
            loud_db=self.loud_db + by_db,
        )


def swell_shape(cents: Array, level_db: Array) -> SwellShape:
    """Return the shape of a swell.

    Parameters
    ----------
    cents, level_db
        One value per step, from soft to loud; an unknown level is NaN.
    """
    step = np.arange(len(cents), dtype=float)
    known = np.isfinite(level_db)
    if known.sum() < _STEPS_FOR_A_SLOPE:
        return _without_level(cents, step)
    level = _tamed(step[known], level_db[known])
    low, high = float(level.min()), float(level.max())
    if high - low < _RANGE_FOR_A_SLOPE_DB:
        return _too_narrow(cents[known], (low, high))
    return _fitted(cents[known], level, (low, high))


def _without_level(cents: Array, step: Array) -> SwellShape:
    kept = _unbroken(step, cents)
    return SwellShape(
        middle_cents=float(np.median(cents[kept])),
        soft_cents=float(cents[kept][0]),
        loud_cents=float(cents[kept][-1]),
    )


def _too_narrow(cents: Array, ends: tuple[float, float]) -> SwellShape:
    middle = float(np.median(cents))
    return SwellShape(
        middle_cents=middle,
        middle_db=sum(ends) / 2.0,
        soft_db=ends[0],
        loud_db=ends[1],
        soft_cents=middle,
        loud_cents=middle,
    )


def _fitted(cents: Array, level: Array, ends: tuple[float, float]) -> SwellShape:
    middle_db = sum(ends) / 2.0
    kept = _unbroken(level, cents)
    offset = level - middle_db
    degree = 2 if kept.sum() >= _STEPS_FOR_A_BEND else 1
    powers = _powers(offset, degree)
    normal = np.linalg.inv(powers[kept].T @ powers[kept] + _TINY * np.eye(degree + 1))
    curve = normal @ powers[kept].T @ cents[kept]
    residual = cents[kept] - powers[kept] @ curve
    freedom = max(len(residual) - degree - 1, 1)
    scatter = max(float(residual @ residual) / freedom, _LEAST_CENTS**2)
    errors = np.sqrt(scatter * np.diag(normal))
    at_ends = _powers(np.array(ends) - middle_db, degree)
    soft_cents, loud_cents = at_ends @ curve
    return SwellShape(
        middle_cents=float(curve[0]),
        middle_db=middle_db,
        soft_db=ends[0],
        loud_db=ends[1],
        soft_cents=float(soft_cents),
        loud_cents=float(loud_cents),
        cents_per_db=float(curve[1]),
        cents_per_db_error=float(errors[1]),
        curvature=float(curve[2]) if degree == 2 else None,
        curvature_error=float(errors[2]) if degree == 2 else None,
    )


def _tamed(step: Array, level_db: Array) -> Array:
    """Replace levels that fall out of the crescendo by what its other steps make of them."""
    slope, start = _median_line(step, level_db)
    line = start + slope * step
    off = np.abs(level_db - line)
    limit = max(_WILD_LEVEL_DB, _SPREADS * 1.4826 * _median(off))
    return np.where(off > limit, line, level_db)


def _unbroken(position: Array, cents: Array) -> NDArray[np.bool_]:
    """Return which steps belong to the same sound: not broken over, squeaked or mistaken."""
    slope, start = _median_line(position, cents)
    off = np.abs(cents - start - slope * position)
    limit = max(_BREAK_CENTS, _SPREADS * 1.4826 * _median(off))
    kept: NDArray[np.bool_] = off <= limit
    return kept


def _median_line(position: Array, value: Array) -> tuple[float, float]:
    """Return slope and intercept of the line of median slopes (Theil 1950, Sen 1968)."""
    first, second = _couples(len(position))
    distance = position[second] - position[first]
    apart = np.abs(distance) > 1e-9
    rise = (value[second] - value[first])[apart]
    slope = _median(rise / distance[apart]) if len(rise) else 0.0
    return slope, _median(value - slope * position)


@cache
def _couples(count: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    first, second = np.triu_indices(count, k=1)
    return first, second


def _median(values: Array) -> float:
    """Return the median; numpy's own costs more than the rest of a swell."""
    ordered = np.sort(values)
    half = len(ordered) // 2
    if len(ordered) % 2:
        return float(ordered[half])
    return float(ordered[half - 1] + ordered[half]) / 2.0


def _powers(offset: Array, degree: int) -> Array:
    return np.stack([offset**power for power in range(degree + 1)], axis=1)
