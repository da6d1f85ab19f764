"""Surprising readings, and contradictory days of a note, are given more room instead of a say.

A variance-shift outlier model: a suspect gets exactly the variance that makes it merely unusual.
"""

from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.design import Design, model_of
from intonation.diagnosis.mixed_model import MixedModel, posterior
from intonation.diagnosis.readings import Array, Flags

_SURPRISE = 2.6
_DAY_SURPRISE = 2.4
_EASED_TO = 1.8

Day = tuple[int, int]
"""A day and a note, by index."""


@dataclass(frozen=True, slots=True)
class Easing:
    """Variance added to what is surprising.

    Parameters
    ----------
    rows
        To the noise of every row of the model, in its units squared.
    days
        To a note on one day, in cents squared.
    """

    rows: Array
    days: dict[Day, float]


NO_EASING = Easing(np.zeros(1), {})
"""The easing of readings that surprise nobody (its one row stands for all)."""


def eased(model: MixedModel, design: Design, easing: Easing, log_size: Array) -> MixedModel:
    """Return the model with more room, at the present sizes, for what is surprising."""
    padded = np.append(log_size, 0.0)
    scale = np.exp(2.0 * padded[model.noise_group])
    noise_sd = np.sqrt(model.noise_sd**2 + easing.rows / scale)
    effect_sd = model.effect_sd.copy()
    days = design.columns_named("passing day")
    scale = np.exp(2.0 * padded[model.effect_group[days]])
    more = np.array([easing.days.get(day, 0.0) for day in _days(design)])
    effect_sd[days] = np.sqrt(effect_sd[days] ** 2 + more / scale)
    return replace(model, noise_sd=noise_sd, effect_sd=effect_sd)


def eased_further(
    easing: Easing, design: Design, log_size: Array, *, measured: int, rounds: int
) -> Easing:
    """Return an easing that covers what is still surprising, after a few rounds of looking."""
    model = model_of(design, measured=measured)
    columns = model.design[:, design.columns_named("passing day")]
    days, several = _days(design), _on_several_days(design, measured)
    for _ in range(rounds):
        state = posterior(eased(model, design, easing, log_size), log_size)
        rows = _added(*state.surprise(np.eye(len(model.observed))), limit=_SURPRISE)
        more = np.zeros(len(days))
        if several.any():
            surprise, precision = state.surprise(columns[:, several])
            more[several] = _added(surprise, precision, limit=_DAY_SURPRISE)
        if not rows.any() and not more.any():
            break
        added = {day: easing.days.get(day, 0.0) + v for day, v in zip(days, more, strict=True) if v}
        easing = Easing(easing.rows + rows, easing.days | added)
    return easing


def _added(surprise: Array, precision: Array, *, limit: float) -> Array:
    ratio = (surprise / _EASED_TO) ** 2
    return np.where(np.abs(surprise) > limit, (ratio - 1.0) / precision, 0.0)


def _days(design: Design) -> list[Day]:
    """Return what the columns of the block of days stand for, in its order."""
    readings = design.readings
    there = readings.day >= 0
    places = np.stack([readings.day[there], readings.note[there]], axis=1)
    return [(int(day), int(note)) for day, note in np.unique(places, axis=0)]


def _on_several_days(design: Design, measured: int) -> Flags:
    """Return which days of a note can be checked against another day of the same note."""
    readings = design.readings.where(np.arange(measured))
    days_of: dict[tuple[int, int, int], set[int]] = {}
    owners: dict[Day, tuple[int, int, int]] = {}
    for player, instrument, note, day in zip(
        readings.player, readings.instrument, readings.note, readings.day, strict=True
    ):
        owner = int(player), int(instrument), int(note)
        days_of.setdefault(owner, set()).add(int(day))
        owners[int(day), int(note)] = owner
    days = _days(design)
    return np.array([d in owners and len(days_of[owners[d]]) > 1 for d in days], dtype=bool)
