"""From held-note rows to readings: swells reduced, gross errors left out, levels centred."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from intonation.diagnosis.readings import Array, Axes, Fingered, Flags, Readings, numbered
from intonation.diagnosis.swell_shape import SwellShape, swell_shape
from intonation.heldnotes.row import HeldNoteRow

GROSS_CENTS = 75.0
"""Further than this from the rest is a squeak or a wrong fingering, unless the note repeats it."""
_AGREEING_CENTS = 25.0
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
class _Reading:
    """A row with what it counts for; of a swell, its first row and its shape."""

    row: HeldNoteRow
    cents: float
    level_db: float | None
    shape: SwellShape | None = None


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
    everything = list(rows)
    plain = [_Reading(r, r.cents, r.level_db) for r in everything if r.kind not in _SWELLS]
    taken = plain + [_reduced(steps) for steps in _swells_of(everything)]
    kept = _without_gross_errors(taken)
    axes = axes_of([reading.row for reading in kept])
    readings = _of_one_day(_in_columns(kept, axes, changed), axes, together)
    centre = _level_centres(readings, len(axes.positions))
    centred = readings.with_levels(readings.level_db - centre[readings.position])
    swells = _swells_with_centred_levels(kept, readings, centre)
    return Evidence(axes, centred, swells, len(taken) - len(kept))


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


def _reduced(steps: Sequence[HeldNoteRow]) -> _Reading:
    cents = np.array([row.cents for row in steps])
    level = np.array([np.nan if row.level_db is None else row.level_db for row in steps])
    shape = swell_shape(cents, level)
    return _Reading(steps[len(steps) // 2], shape.middle_cents, shape.middle_db, shape)


def _without_gross_errors(taken: Sequence[_Reading]) -> list[_Reading]:
    by_sitting = defaultdict(list)
    by_note = defaultdict(list)
    for reading in taken:
        by_sitting[_sitting(reading.row)].append(reading.cents)
        by_note[_note_of(reading.row)].append(reading.cents)
    centre = {key: float(np.median(cents)) for key, cents in by_sitting.items()}
    return [
        reading
        for reading in taken
        if abs(reading.cents - centre[_sitting(reading.row)]) <= GROSS_CENTS
        or _repeated(reading.cents, by_note[_note_of(reading.row)])
    ]


def _repeated(cents: float, others: Sequence[float]) -> bool:
    """Whether most tones of the note, and at least three, lie where this one does."""
    near = sum(abs(cents - other) <= _AGREEING_CENTS for other in others)
    return near >= 3 and 2 * near > len(others)


def _note_of(row: HeldNoteRow) -> tuple[str, str, int, str]:
    return row.player, row.instrument, row.midi, row.fingering


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


def _in_columns(taken: Sequence[_Reading], axes: Axes, changed: Collection[str]) -> Readings:
    rows = [reading.row for reading in taken]
    player, instrument = numbered(axes.players), numbered(axes.instruments)
    sitting, position = numbered(axes.sittings), numbered(axes.positions)
    room = numbered(axes.rooms)
    note = {(n.midi, n.fingering): i for i, n in enumerate(axes.notes)}
    middle = np.array([reading.shape is not None for reading in taken], dtype=bool)
    return Readings(
        player=np.array([player[r.player] for r in rows], dtype=np.intp),
        instrument=np.array([instrument[r.instrument] for r in rows], dtype=np.intp),
        sitting=np.array([sitting[_sitting(r)] for r in rows], dtype=np.intp),
        position=np.array([position[_position(r)] for r in rows], dtype=np.intp),
        day=np.array([sitting[_sitting(r)] for r in rows], dtype=np.intp),
        room=np.array([room[_room(r)] for r in rows], dtype=np.intp),
        note=np.array([note[r.midi, r.fingering] for r in rows], dtype=np.intp),
        exact=np.array([r.kind.startswith("careful") for r in rows], dtype=bool),
        middle=middle,
        matched=np.array([_matched(r) for r in rows], dtype=bool) & ~middle,
        loose=np.array([_loose(reading) for reading in taken], dtype=bool),
        changed=np.array([r.session in changed for r in rows], dtype=bool),
        minutes=_numbers([r.minutes for r in rows]),
        celsius=_numbers([r.temperature_c for r in rows]),
        approach=np.array([_approach(r) for r in rows], dtype=float),
        cents=np.array([reading.cents for reading in taken], dtype=float),
        level_db=_numbers([reading.level_db for reading in taken]),
    )


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


def _loose(reading: _Reading) -> bool:
    if reading.shape is None:
        return reading.row.kind == "melody"
    range_db = reading.shape.range_db
    return range_db is not None and range_db < _NARROW_SWELL_DB


def _approach(row: HeldNoteRow) -> float:
    return 0.0 if row.previous_midi is None else float(np.sign(row.midi - row.previous_midi))


def _numbers(values: Sequence[float | None]) -> Array:
    return np.array([np.nan if value is None else value for value in values], dtype=float)


def _level_centres(readings: Readings, positions: int) -> Array:
    centres = np.zeros(positions)
    known: Flags = np.isfinite(readings.level_db)
    order = np.argsort(readings.position[known], kind="stable")
    pairs = zip(readings.position[known][order], readings.level_db[known][order], strict=True)
    for position, group in groupby(pairs, key=lambda pair: int(pair[0])):
        centres[position] = float(np.median([level for _, level in group]))
    return centres


def _swells_with_centred_levels(
    taken: Sequence[_Reading], readings: Readings, centre: Array
) -> tuple[Swell, ...]:
    """A swell's ends are moved with its middle, by the centre of its microphone position."""
    swells = []
    for i, reading in enumerate(taken):
        if reading.shape is not None:
            shape = reading.shape.moved_db(-float(centre[readings.position[i]]))
            player, instrument = int(readings.player[i]), int(readings.instrument[i])
            swells.append(Swell(player, instrument, int(readings.note[i]), shape))
    return tuple(swells)
