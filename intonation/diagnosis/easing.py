"""Surprising readings, and contradictory days of a note, are given more room instead of a say.

A variance-shift outlier model: a suspect gets exactly the variance that makes it merely unusual.
"""

from collections import Counter
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.design import Design, model_of
from intonation.diagnosis.magnitudes import FREE
from intonation.diagnosis.mixed_model import MixedModel, posterior
from intonation.diagnosis.readings import Array, Flags

_SURPRISE = 2.6
_DAY_SURPRISE = 2.4
_EASED_TO = 1.8
_LARGEST_DAY_LOG_SIZE = 0.5
"""A day's own size is taken to be no larger when days are compared: else they would excuse it."""

DAY = FREE.index("day")
Day = tuple[int, int]
"""A day and a note, by index."""
Owner = tuple[int, int, int, bool]
"""A player, an instrument and a note, by index, and whether the instrument had been changed: a
day before cannot be checked by a day after."""


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


def with_doubt(easing: Easing, design: Design, log_size: Array, *, measured: int) -> Easing:
    """Return an easing in which days of a note that contradict each other all count for less.

    If most days of a note lie apart, nobody knows which to believe: every one of them gets the
    variance between them, as if drawn at random from days like these.
    """
    owners = _owners(design, measured)
    days, several = _days(design), _on_several_days(design, measured)
    if not several.any():
        return easing
    capped = log_size.copy()
    capped[DAY] = min(capped[DAY], _LARGEST_DAY_LOG_SIZE)
    model = eased(model_of(design, measured=measured), design, Easing(easing.rows, {}), capped)
    columns = model.design[:, design.columns_named("passing day")][:, several]
    surprise, precision = posterior(model, capped).surprise(columns)
    places = [day for day, there in zip(days, several, strict=True) if there]
    found: dict[Owner, list[int]] = {}
    for i, place in enumerate(places):
        found.setdefault(owners[place], []).append(i)
    more = dict(easing.days)
    for own in found.values():
        if 2 * np.sum(np.abs(surprise[own]) > _DAY_SURPRISE) >= len(own):
            apart = float(np.mean(surprise[own] ** 2 / precision[own]))
            between = apart * (len(own) - 1) / len(own)
            more |= {places[i]: max(between, more.get(places[i], 0.0)) for i in own}
    return Easing(easing.rows, more)


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
    owners = _owners(design, measured)
    days = Counter(owners.values())
    return np.array([day in owners and days[owners[day]] > 1 for day in _days(design)], dtype=bool)


def _owners(design: Design, measured: int) -> dict[Day, Owner]:
    """Return whose note each measured day of a note is."""
    readings = design.readings.where(np.arange(measured))
    owners: dict[Day, Owner] = {}
    for player, instrument, note, changed, day in zip(
        readings.player,
        readings.instrument,
        readings.note,
        readings.changed,
        readings.day,
        strict=True,
    ):
        owners[int(day), int(note)] = int(player), int(instrument), int(note), bool(changed)
    return owners
