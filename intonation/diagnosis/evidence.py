"""From held-note rows to readings: swells reduced, gross errors left out, levels centred."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import compress

import numpy as np

from intonation.diagnosis.flat_levels import flat_places, without_levels
from intonation.diagnosis.moved_microphone import parted_where_moved
from intonation.diagnosis.readings import (
    NOBODY,
    Array,
    Axes,
    Fingered,
    Flags,
    Numbers,
    Readings,
    numbered,
)
from intonation.diagnosis.rows_that_count import rows_that_count
from intonation.diagnosis.swell_rows import SWELLS, swells_in
from intonation.diagnosis.swell_shape import SwellShape, swell_shapes
from intonation.heldnotes import columns
from intonation.heldnotes.row import HeldNoteRow

GROSS_CENTS = 75.0
"""Further than this from the rest is a squeak or a wrong fingering, unless the note repeats it."""
_AGREEING_CENTS = 25.0
_AGREEING_TONES = 3
_NARROW_SWELL_DB = 4.0
_LEVELS_DB = (-columns.LARGEST_LEVEL_DB, columns.LARGEST_LEVEL_DB)
_EXACT = frozenset({"careful", "careful-swell"})


@dataclass(frozen=True, slots=True)
class Swell:
    """A swell and whom it belongs to, by index into the axes."""

    player: int
    instrument: int
    note: int
    shape: SwellShape


@dataclass(frozen=True, slots=True)
class Evidence:
    """All that is known, ready for the model.

    Parameters
    ----------
    axes
        Names behind the indices.
    readings
        Held notes and the middles of swells.
    swells
        Their shapes; levels are as measured.
    left_out
        How many readings were gross errors, and how many rows impossible or copies.
    """

    axes: Axes
    readings: Readings
    swells: tuple[Swell, ...]
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class _Taken:
    """Rows that count, with what they say: so many plain ones, then a row and shape per swell."""

    rows: list[HeldNoteRow]
    plain: int
    shapes: list[SwellShape]
    cents: Array
    level_db: Array


def evidence_from(
    rows: Iterable[HeldNoteRow],
    *,
    changed: Collection[str] = frozenset(),
    together: Collection[str] = frozenset(),
) -> Evidence:
    """Return what a table of held notes says.

    Parameters
    ----------
    rows
        In any order.
    changed
        Sessions after an adjustment that is to be judged.
    together
        Sessions taken to be of one day, with the microphone in one place.
    """
    heard = list(rows)
    counting = rows_that_count(heard)
    taken = _taken(counting)
    everything, axes = _in_columns(taken, changed)
    flat = flat_places(everything, taken.shapes, axes)
    if flat:
        return evidence_from(without_levels(heard, flat), changed=changed, together=together)
    everything, axes = parted_where_moved(everything, axes, in_time=partial(_in_time, taken.rows))
    kept = _without_gross_errors(everything)
    readings = _of_one_day(everything.where(kept), axes, together)
    centre = median_of_each(readings.position, readings.level_db, len(axes.positions))
    centred = readings.with_levels(readings.level_db - centre[readings.position])
    swells = _kept_swells(taken, everything, kept)
    left_out = len(heard) - len(counting) + int(np.count_nonzero(~kept))
    return Evidence(axes, centred, swells, left_out)


def _taken(rows: Sequence[HeldNoteRow]) -> _Taken:
    plain = [row for row in rows if row.kind not in SWELLS]
    swells = swells_in(rows)
    steps = [step for swell in swells for step in swell]
    shapes = swell_shapes(
        _numbers([step.cents for step in steps]),
        _known([step.level_db for step in steps], *_LEVELS_DB),
        steps=[len(swell) for swell in swells],
    )
    middles = [shape.middle_cents for shape in shapes]
    levels = [shape.middle_db for shape in shapes]
    return _Taken(
        plain + [swell[len(swell) // 2] for swell in swells],
        len(plain),
        shapes,
        _numbers([row.cents for row in plain] + middles),
        _known([row.level_db for row in plain] + levels, *_LEVELS_DB),
    )


def _without_gross_errors(readings: Readings) -> Flags:
    """Return which readings lie near their sitting's middle, or where their note always lies."""
    sittings = int(readings.sitting.max(initial=-1)) + 1
    centre = median_of_each(readings.sitting, readings.cents, sittings)
    kept: Flags = np.abs(readings.cents - centre[readings.sitting]) <= GROSS_CENTS
    own, _ = _combined(readings.player, readings.instrument, readings.note)
    order = np.argsort(own, kind="stable")
    start, end = (np.searchsorted(own[order], own, side=side) for side in ("left", "right"))
    for i in np.flatnonzero(~kept):
        others = readings.cents[order[start[i] : end[i]]]
        near = np.abs(others - readings.cents[i]) <= _AGREEING_CENTS
        kept[i] = near.sum() >= _AGREEING_TONES and 2 * near.sum() > len(near)
    return kept


def _in_columns(taken: _Taken, changed: Collection[str]) -> tuple[Readings, Axes]:
    rows = taken.rows
    player, players = _coded([row.player for row in rows])
    instrument, instruments = _coded([row.instrument for row in rows])
    session, sessions = _coded([row.session for row in rows])
    microphone, microphones = _coded([row.microphone or "" for row in rows])
    fingering, fingerings = _coded([row.fingering for row in rows])
    midi = np.array([row.midi for row in rows], dtype=np.intp)
    sitting, sittings = _combined(session, player, instrument)
    position, positions = _combined(session, microphone)
    unnamed = np.array([not name for name in microphones], dtype=bool)
    room, rooms = _combined(np.where(unnamed[microphone], session, NOBODY), microphone)
    note, notes = _combined(midi, fingering)
    axes = Axes(
        players,
        instruments,
        tuple((sessions[s], players[p], instruments[i]) for s, p, i in sittings),
        tuple((sessions[s], microphones[m]) for s, m in positions),
        tuple((sessions[s] if s >= 0 else "", microphones[m]) for s, m in rooms),
        tuple(Fingered(m, fingerings[f]) for m, f in notes),
    )
    after = np.array([name in changed for name in sessions], dtype=bool)
    middle = np.arange(len(rows)) >= taken.plain
    readings = Readings(
        player=player,
        instrument=instrument,
        sitting=sitting,
        position=position,
        room=room,
        day=sitting,
        note=note,
        exact=_flags([row.kind in _EXACT for row in rows]),
        middle=middle,
        matched=~middle
        & _flags([row.kind == "matched" or row.reference or not row.blind for row in rows]),
        loose=_flags(
            [row.kind == "melody" for row in rows[: taken.plain]]
            + [_narrow(shape) for shape in taken.shapes]
        ),
        changed=after[session],
        minutes=_known([row.minutes for row in rows], 0.0, columns.LONGEST_MINUTES),
        celsius=_known([row.temperature_c for row in rows], columns.COLDEST_C, columns.WARMEST_C),
        approach=np.sign(midi - _numbers([row.previous_midi for row in rows])),
        cents=taken.cents,
        level_db=taken.level_db,
    )
    return replace(readings, approach=np.nan_to_num(readings.approach)), axes


def _in_time(rows: Sequence[HeldNoteRow]) -> Numbers:
    """Return the place of each row in the order of time: by its minutes, or else by its number."""
    number = np.array([row.event for row in rows], dtype=float)
    minutes = _numbers([row.minutes for row in rows])
    place = np.empty(len(rows), dtype=np.intp)
    place[np.lexsort((number, minutes))] = np.arange(len(rows))
    return place


def _coded(names: Sequence[str]) -> tuple[Numbers, tuple[str, ...]]:
    """Return an index for every name, and the names in order of appearance."""
    index = numbered(names)
    return np.array(list(map(index.__getitem__, names)), dtype=np.intp), tuple(index)


def _combined(*indices: Numbers) -> tuple[Numbers, list[tuple[int, ...]]]:
    """Return an index for every combination of indices, and the combinations in order."""
    lowest = [int(index.min(initial=0)) for index in indices]
    shape = [int(i.max(initial=0)) - low + 1 for i, low in zip(indices, lowest, strict=True)]
    shifted = tuple(index - low for index, low in zip(indices, lowest, strict=True))
    found, combined = np.unique(np.ravel_multi_index(shifted, shape), return_inverse=True)
    parts = np.unravel_index(found, shape)
    listed = [(part + low).tolist() for part, low in zip(parts, lowest, strict=True)]
    return combined.astype(np.intp), list(zip(*listed, strict=True))


def _flags(values: Sequence[bool]) -> Flags:
    return np.array(values, dtype=bool)


def _of_one_day(readings: Readings, axes: Axes, together: Collection[str]) -> Readings:
    one_day = np.array([session in together for session, _, _ in axes.sittings], dtype=bool)
    here = one_day[readings.sitting]
    if not here.any():
        return readings
    day = np.where(here, readings.day[here].min(), readings.day)
    room = np.where(here, readings.room[here].min(), readings.room)
    return replace(readings, day=day, room=room)


def _narrow(shape: SwellShape) -> bool:
    """Return whether a swell may well not have reached the ends of its note's range."""
    return shape.range_db is None or shape.range_db < _NARROW_SWELL_DB


def _numbers(values: Sequence[float | None]) -> Array:
    # numpy turns None into NaN in a float array.
    return np.array(values, dtype=float)


def _known(values: Sequence[float | None], lowest: float, highest: float) -> Array:
    """Return values, NaN for what is unknown and for what no such quantity can be."""
    numbers = _numbers(values)
    return np.where((numbers >= lowest) & (numbers <= highest), numbers, np.nan)


def median_of_each(group: Numbers, values: Array, groups: int) -> Array:
    """Return the (lower) median of the known values of every group; 0 where none is known."""
    known = np.isfinite(values)
    group, values = group[known], values[known]
    order = np.argsort(values)
    # Numbers of few bits are sorted in one pass; those of a record's sittings have few.
    few_bits = group[order].astype(np.min_scalar_type(groups))
    ordered = values[order[np.argsort(few_bits, kind="stable")]]
    count = np.bincount(group, minlength=groups)
    start = np.cumsum(count) - count
    medians = np.zeros(groups)
    there = count > 0
    medians[there] = ordered[start[there] + (count[there] - 1) // 2]
    return medians


def _kept_swells(taken: _Taken, everything: Readings, kept: Flags) -> tuple[Swell, ...]:
    middles = everything.where(slice(taken.plain, None))
    owners = (each.tolist() for each in (middles.player, middles.instrument, middles.note))
    swells = map(Swell, *owners, taken.shapes)
    return tuple(compress(swells, kept[taken.plain :]))
