"""Where levels show that the microphone, or its gain, was moved in the middle of a sitting.

Nobody may have said so. Between two tones all notes are then louder, or softer, than they were; the
parts of the sitting are taken to be positions of their own.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.readings import Array, Axes, Flags, Numbers, Readings

_LEAST_STEP_DB = 2.5
_LEAST_SCATTER_DB = 0.8
_SURE = 5.0
_FEWEST_NOTES = 4
_MOST_STEPS = 6
_MOST_TONES = 400
"""A step of the level is one if so many notes agree so well (design judgement). Longer tables are
not looked through: there is enough in them without their levels."""


@dataclass(frozen=True, slots=True)
class _Levels:
    """Levels of tones, in the order of time, with notes numbered from 0."""

    note: Numbers
    level_db: Array


def parted_where_moved(
    readings: Readings, axes: Axes, *, in_time: Callable[[], Numbers]
) -> tuple[Readings, Axes]:
    """Return readings and axes with a position of its own after every move of the microphone.

    Parameters
    ----------
    readings, axes
        Whatever was heard.
    in_time
        Gives the place of each reading in the order of time, if it is asked for.
    """
    position, room = readings.position.copy(), readings.room.copy()
    positions, rooms = list(axes.positions), list(axes.rooms)
    told = ~readings.middle & ~readings.matched & ~readings.loose & np.isfinite(readings.level_db)
    if np.count_nonzero(told) > _MOST_TONES:
        return readings, axes
    when = in_time()
    places = np.stack([readings.position, readings.sitting], axis=1)
    for which, sitting in np.unique(places, axis=0).tolist():
        here = (readings.position == which) & (readings.sitting == sitting)
        for moment in _moves(readings, told & here, when):
            later = here & (when >= moment)
            position[later], room[later] = len(positions), len(rooms)
            positions.append(axes.positions[which])
            rooms.append(axes.positions[which])
    parted = replace(readings, position=position, room=room)
    return parted, replace(axes, positions=tuple(positions), rooms=tuple(rooms))


def _moves(readings: Readings, chosen: Flags, when: Numbers) -> list[int]:
    """Return the moments from which on the chosen tones have another level, in order."""
    tones = np.flatnonzero(chosen)
    tones = tones[np.argsort(when[tones], kind="stable")]
    if len(tones) < 2 * _FEWEST_NOTES:
        return []
    note = np.unique(readings.note[tones], return_inverse=True)[1].astype(np.intp)
    return sorted(int(when[tones[at]]) for at in _steps(_Levels(note, readings.level_db[tones])))


def _steps(levels: _Levels) -> Iterator[int]:
    """Yield the places of the steps, the surest first; each is taken out before the next."""
    for _ in range(_MOST_STEPS):
        step_db = _surest_step_db(levels)
        if step_db is None:
            return
        at = _place_of(step_db, levels)
        later = np.arange(len(levels.note)) >= at
        levels = replace(levels, level_db=levels.level_db - step_db * later)
        yield at


def _surest_step_db(levels: _Levels) -> float | None:
    """Return the median change of the notes on both sides of the place where it is surest."""
    present = np.eye(int(levels.note.max()) + 1)[levels.note]
    count = np.cumsum(present, axis=0)[:-1]
    total = np.cumsum(present * levels.level_db[:, None], axis=0)
    left = count[-1] + present[-1] - count
    both = (count > 0) & (left > 0)
    change = (total[-1] - total[:-1]) / np.maximum(left, 1) - total[:-1] / np.maximum(count, 1)
    enough = np.flatnonzero(both.sum(axis=1) >= _FEWEST_NOTES)
    if not len(enough):
        return None
    known = np.where(both[enough], change[enough], np.nan)
    steps = np.nanmedian(known, axis=1)
    scatter = 1.4826 * np.nanmedian(np.abs(known - steps[:, None]), axis=1)
    notes = both[enough].sum(axis=1)
    sure = np.abs(steps) * np.sqrt(notes) / np.maximum(scatter, _LEAST_SCATTER_DB)
    best = int(np.argmax(sure))
    found = float(steps[best])
    return found if sure[best] > _SURE and abs(found) > _LEAST_STEP_DB else None


def _place_of(step_db: float, levels: _Levels) -> int:
    """Return the tone from which on a step explains the levels best, by absolute deviations."""
    count = len(levels.note)
    centring = np.eye(count) - _same_note(levels.note)
    steps = np.tril(np.ones((count, count)))[:, 1:]
    left = (centring @ levels.level_db)[:, None] - step_db * (centring @ steps)
    return 1 + int(np.argmin(np.abs(left).sum(axis=0)))


def _same_note(note: Numbers) -> Array:
    """Return the matrix that gives every tone the mean of its note."""
    alike = (note[:, None] == note[None]).astype(float)
    means: Array = alike / alike.sum(axis=1, keepdims=True)
    return means
