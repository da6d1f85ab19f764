"""From held-note rows to readings: swells reduced, gross errors left out, levels centred."""

from collections import Counter, defaultdict
from collections.abc import Collection, Hashable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.readings import (
    Array,
    Axes,
    Fingered,
    Flags,
    Numbers,
    Readings,
    numbered,
)
from intonation.diagnosis.swell_shape import SwellShape, swell_shape
from intonation.heldnotes.row import HeldNoteRow

GROSS_CENTS = 75.0
"""Further than this from the rest is a squeak or a wrong fingering, unless the note repeats it."""
_AGREEING_CENTS = 25.0
_AGREEING_TONES = 3
_NARROW_SWELL_DB = 4.0
_SWELLS = ("swell", "careful-swell")


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
        Their shapes; levels are centred like those of the readings.
    left_out
        How many readings were gross errors.
    """

    axes: Axes
    readings: Readings
    swells: tuple[Swell, ...]
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class _Taken:
    """Rows that count, with what they say; of a swell, its middle row and its shape."""

    rows: list[HeldNoteRow]
    shapes: dict[int, SwellShape]
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
    taken = _taken(list(rows))
    axes = axes_of(taken.rows)
    everything = _in_columns(taken, axes, changed)
    kept = _without_gross_errors(everything)
    readings = _of_one_day(everything.where(kept), axes, together)
    centre = median_of_each(readings.position, readings.level_db, len(axes.positions))
    centred = readings.with_levels(readings.level_db - centre[readings.position])
    swells = _swells_with_centred_levels(taken.shapes, everything, kept, centre)
    return Evidence(axes, centred, swells, int(np.count_nonzero(~kept)))


def _taken(rows: Sequence[HeldNoteRow]) -> _Taken:
    plain = [row for row in rows if row.kind not in _SWELLS]
    swells = _swells_of(rows)
    shapes = [_shape_of(steps) for steps in swells]
    middles = [shape.middle_cents for shape in shapes]
    levels = [shape.middle_db for shape in shapes]
    return _Taken(
        plain + [steps[len(steps) // 2] for steps in swells],
        {len(plain) + i: shape for i, shape in enumerate(shapes)},
        np.array([row.cents for row in plain] + middles, dtype=float),
        _numbers([row.level_db for row in plain] + levels),
    )


def _swells_of(rows: Sequence[HeldNoteRow]) -> list[list[HeldNoteRow]]:
    together = defaultdict(list)
    for row in rows:
        if row.kind in _SWELLS:
            place = (row.player, row.instrument, row.session, row.microphone)
            together[(*place, row.midi, row.kind, row.swell)].append(row)
    swells = []
    for steps in together.values():
        ordered = sorted(steps, key=lambda r: r.swell_step or 0) if steps[0].swell else steps
        swells.append(ordered)
    return swells


def _shape_of(steps: Sequence[HeldNoteRow]) -> SwellShape:
    cents = np.array([row.cents for row in steps])
    return swell_shape(cents, _numbers([row.level_db for row in steps]))


def _without_gross_errors(readings: Readings) -> Flags:
    """Return which readings lie near their sitting's middle, or where their note always lies."""
    sittings = int(readings.sitting.max(initial=-1)) + 1
    centre = median_of_each(readings.sitting, readings.cents, sittings)
    kept: Flags = np.abs(readings.cents - centre[readings.sitting]) <= GROSS_CENTS
    for i in np.flatnonzero(~kept):
        same = (readings.note == readings.note[i]) & (readings.player == readings.player[i])
        same &= readings.instrument == readings.instrument[i]
        near = np.abs(readings.cents[same] - readings.cents[i]) <= _AGREEING_CENTS
        kept[i] = near.sum() >= _AGREEING_TONES and 2 * near.sum() > len(near)
    return kept


def _sitting(row: HeldNoteRow) -> tuple[str, str, str]:
    return row.session, row.player, row.instrument


def _position(row: HeldNoteRow) -> tuple[str, str]:
    return row.session, row.microphone or ""


def _room(row: HeldNoteRow) -> tuple[str, str]:
    return ("", row.microphone) if row.microphone else (row.session, "")


def axes_of(rows: Sequence[HeldNoteRow]) -> Axes:
    """Return everyone and everything that rows refer to."""
    notes = sorted(Counter((row.midi, row.fingering) for row in rows))
    return Axes(
        tuple(numbered(row.player for row in rows)),
        tuple(numbered(row.instrument for row in rows)),
        tuple(numbered(map(_sitting, rows))),
        tuple(numbered(map(_position, rows))),
        tuple(numbered(map(_room, rows))),
        tuple(Fingered(*note) for note in notes),
    )


def _in_columns(taken: _Taken, axes: Axes, changed: Collection[str]) -> Readings:
    rows = taken.rows
    sitting = _indices(map(_sitting, rows), axes.sittings)
    middle = np.array([i in taken.shapes for i in range(len(rows))], dtype=bool)
    matched = np.array([_matched(row) for row in rows], dtype=bool)
    return Readings(
        player=_indices((row.player for row in rows), axes.players),
        instrument=_indices((row.instrument for row in rows), axes.instruments),
        sitting=sitting,
        position=_indices(map(_position, rows), axes.positions),
        room=_indices(map(_room, rows), axes.rooms),
        day=sitting,
        note=_indices(((r.midi, r.fingering) for r in rows), _pairs_of(axes.notes)),
        exact=np.array([row.kind.startswith("careful") for row in rows], dtype=bool),
        middle=middle,
        matched=matched & ~middle,
        loose=np.array([_loose(r, taken.shapes.get(i)) for i, r in enumerate(rows)], dtype=bool),
        changed=np.array([row.session in changed for row in rows], dtype=bool),
        minutes=_numbers([row.minutes for row in rows]),
        celsius=_numbers([row.temperature_c for row in rows]),
        approach=np.array([_approach(row) for row in rows], dtype=float),
        cents=taken.cents,
        level_db=taken.level_db,
    )


def _pairs_of(notes: Sequence[Fingered]) -> list[tuple[int, str]]:
    return [(note.midi, note.fingering) for note in notes]


def _indices(keys: Iterable[Hashable], axis: Iterable[Hashable]) -> Numbers:
    index = numbered(axis)
    return np.array([index[key] for key in keys], dtype=np.intp)


def _of_one_day(readings: Readings, axes: Axes, together: Collection[str]) -> Readings:
    one_day = np.array([session in together for session, _, _ in axes.sittings], dtype=bool)
    here = one_day[readings.sitting]
    if not here.any():
        return readings
    day = np.where(here, readings.day[here].min(), readings.day)
    room = np.where(here, readings.room[here].min(), readings.room)
    return replace(readings, day=day, room=room)


def _matched(row: HeldNoteRow) -> bool:
    return row.kind == "matched" or row.reference or not row.blind


def _loose(row: HeldNoteRow, shape: SwellShape | None) -> bool:
    if shape is None:
        return row.kind == "melody"
    return shape.range_db is not None and shape.range_db < _NARROW_SWELL_DB


def _approach(row: HeldNoteRow) -> float:
    return 0.0 if row.previous_midi is None else float(np.sign(row.midi - row.previous_midi))


def _numbers(values: Sequence[float | None]) -> Array:
    return np.array([np.nan if value is None else value for value in values], dtype=float)


def median_of_each(group: Numbers, values: Array, groups: int) -> Array:
    """Return the (lower) median of the known values of every group; 0 where none is known."""
    known = np.isfinite(values)
    order = np.lexsort((values[known], group[known]))
    ordered, sorted_group = values[known][order], group[known][order]
    start = np.searchsorted(sorted_group, np.arange(groups))
    count = np.bincount(sorted_group, minlength=groups)
    medians = np.zeros(groups)
    there = count > 0
    medians[there] = ordered[start[there] + (count[there] - 1) // 2]
    return medians


def _swells_with_centred_levels(
    shapes: dict[int, SwellShape], everything: Readings, kept: Flags, centre: Array
) -> tuple[Swell, ...]:
    """A swell's ends are moved with its middle, by the centre of its microphone position."""
    swells = []
    for i, shape in shapes.items():
        if kept[i]:
            moved = shape.moved_db(-float(centre[everything.position[i]]))
            player, instrument = int(everything.player[i]), int(everything.instrument[i])
            swells.append(Swell(player, instrument, int(everything.note[i]), moved))
    return tuple(swells)
