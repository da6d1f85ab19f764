"""The effects that make up pitch and level, as blocks of columns for any set of readings."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.diagnosis import magnitudes
from intonation.diagnosis.bending import Bending
from intonation.diagnosis.magnitudes import FIXED, FREE
from intonation.diagnosis.mixed_model import FIXED_SIZE
from intonation.diagnosis.readings import NOBODY, Array, Axes, Numbers, Readings

_WARM_UP_MINUTES = 4.0
_DRIFT_MINUTES = 8.0
_OWN_SHARE = 0.3
"""Share of a habit that differs between instruments (invented)."""
RANGE_SHARE = 0.8
"""How far makers tune a note at an even breath, 1, or in the middle of its own range, 0 (invented;
taking it for too large costs less, in simulation, than taking it for too small)."""
_LOOSER = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What the notes themselves can hardly tell.

    Parameters
    ----------
    exact_share
        Share of the fingers' habit that is left when fingers are checked.
    compensation
        Share of an instrument's fault that the player corrects with the breath unknowingly.
    """

    exact_share: float = 0.45
    compensation: float = 0.15


@dataclass(frozen=True, slots=True)
class Block:
    """Effects of one kind: what each does to the pitch, breath and level of each reading.

    Parameters
    ----------
    name
        Of the kind; those of the instrument begin with ``instrument``, those of the fingers with
        ``fingers``, those that pass with a sitting or a tone with ``passing``.
    sd
        Base standard deviation of every effect.
    group
        Index of the free size of every effect, or ``FIXED_SIZE``.
    pitch, breath, level
        Readings by effects, in cents, dB and dB per unit; None if there is no such action. Breath
        acts on pitch through the slope, and on level one to one.
    """

    name: str
    sd: Array
    group: NDArray[np.intp]
    pitch: Array | None = None
    breath: Array | None = None
    level: Array | None = None

    def where(self, chosen: Numbers | slice) -> "Block":
        """Return the same effects on some of the readings."""
        acts = (self.pitch, self.breath, self.level)
        some = (None if columns is None else columns[chosen] for columns in acts)
        return Block(self.name, self.sd, self.group, *some)


def blocks_of(
    readings: Readings, *, axes: Axes, bending: Bending, setting: Setting, breath_db: Array
) -> list[Block]:
    """Return all effects on some readings.

    Parameters
    ----------
    readings
        Measured, imagined or planned; whoever they do not name has no part in them.
    axes, bending
        Names, and how every note bends.
    setting
        What is taken for granted.
    breath_db
        The breath about which each reading is linear, relative to the middle of its note's range.
    """
    makers = (
        _sitting_blocks(readings),
        _instrument_blocks(readings, axes, bending, setting),
        _change_blocks(readings, bending, setting),
        _finger_blocks(readings, axes, setting),
        _range_blocks(readings, bending),
        _breath_blocks(readings, axes),
        _level_blocks(readings, axes),
        _single_blocks(readings, bending, breath_db),
    )
    return [block for maker in makers for block in maker]


def _block(
    name: str,
    columns: Array,
    sd: float | Array,
    *,
    size: str | None = None,
    acts: str = "pitch",
) -> Block:
    """Return a block that acts on one thing."""
    count = columns.shape[1]
    group = np.full(count, FIXED_SIZE if size is None else FREE.index(size), dtype=np.intp)
    return Block(name, np.broadcast_to(sd, (count,)).astype(float), group, **{acts: columns})


def _one_hot(index: Numbers, count: int | None = None) -> Array:
    """Return a column for every index; ``NOBODY`` has none."""
    columns = count if count is not None else int(index.max(initial=NOBODY)) + 1
    hot = np.zeros((len(index), columns))
    there = index >= 0
    hot[np.flatnonzero(there), index[there]] = 1.0
    return hot


def _joint(*indices: Numbers) -> tuple[Numbers, Numbers]:
    """Return one index for each combination that occurs, and the rows where it first does."""
    there = np.flatnonzero(np.min(indices, axis=0) >= 0)
    key = np.zeros(len(there), dtype=np.intp)
    for index in indices:
        key = key * (1 + index.max(initial=0)) + index[there]
    joint = np.full(len(indices[0]), NOBODY, dtype=np.intp)
    _, first, joint[there] = np.unique(key, return_index=True, return_inverse=True)
    return joint, there[first]


def habit_cents(axes: Axes) -> Array:
    """Return the usual spread of what fingers do to each note, in cents."""
    table, other = magnitudes.HABIT_CENTS, magnitudes.OTHER_HABIT_CENTS
    return np.array([table.get(note.fingering, other) for note in axes.notes])


def _sitting_blocks(readings: Readings) -> Iterator[Block]:
    sitting = _one_hot(readings.sitting)
    minutes = np.nan_to_num(readings.minutes, nan=_WARM_UP_MINUTES)[:, None]
    celsius = np.nan_to_num(readings.celsius - 20.0)[:, None]
    there = (readings.sitting >= 0).astype(float)[:, None]
    usual = ~readings.middle & ~readings.matched
    yield _block("overall instrument", _one_hot(readings.instrument), FIXED.mean_cents)
    yield _block("overall player", _one_hot(readings.player), FIXED.sitting_cents)
    yield _block("passing sitting", sitting, FIXED.sitting_cents)
    yield _block("passing warmth", there * celsius, magnitudes.CENTS_PER_CELSIUS)
    cold = -np.exp(-minutes / _WARM_UP_MINUTES)
    yield _block("passing warm-up", sitting * cold, FIXED.warm_up_cents)
    slow = (minutes - _WARM_UP_MINUTES) / _DRIFT_MINUTES
    yield _block("passing drift", sitting * slow, FIXED.drift_cents)
    mood = sitting * usual[:, None]
    yield _block("passing mood", mood, FIXED.mood_db, acts="breath")
    yield _block("passing fatigue", mood * minutes, FIXED.fatigue_db, acts="breath")
    came = _one_hot(readings.player) * readings.approach[:, None]
    yield _block("passing approach", came, FIXED.approach_cents)
    day, _ = _joint(readings.day, readings.note)
    yield _block("passing day", _one_hot(day), magnitudes.size_of("day"), size="day")


def _instrument_blocks(
    readings: Readings, axes: Axes, bending: Bending, setting: Setting
) -> Iterator[Block]:
    instrument = _one_hot(readings.instrument)
    octave, upper = axes.octaves[readings.note], axes.upper[readings.note]
    each, _ = _joint(readings.instrument, readings.note)
    softer = _softer(readings, bending, setting)
    shapes = (
        ("instrument tilt", instrument * octave[:, None], FIXED.tilt_cents),
        ("instrument register", instrument * upper[:, None], FIXED.register_cents),
        ("instrument bow", instrument * _bow(octave), FIXED.bow_cents),
        ("instrument note", _one_hot(each), magnitudes.size_of("unevenness")),
    )
    for name, columns, sd in shapes:
        made = _block(name, columns, sd, size="unevenness")
        yield Block(name, made.sd, made.group, pitch=columns, breath=columns * softer)


def _change_blocks(readings: Readings, bending: Bending, setting: Setting) -> Iterator[Block]:
    if not readings.changed.any():
        return
    after, _ = _joint(readings.instrument, np.where(readings.changed, readings.note, NOBODY))
    columns = _one_hot(after)
    made = _block("passing change", columns, FIXED.change_cents)
    softer = columns * _softer(readings, bending, setting)
    yield Block(made.name, made.sd, made.group, pitch=columns, breath=softer)


def _softer(readings: Readings, bending: Bending, setting: Setting) -> Array:
    """Return what a player does to the breath, unknowingly, for each cent of the instrument's."""
    slope = bending.cents_per_db[readings.instrument, readings.note]
    usual = ~readings.middle & ~readings.matched
    softer: Array = (-setting.compensation / slope * usual)[:, None]
    return softer


def _bow(octave: Array) -> Array:
    return (octave**2 - 0.4)[:, None]


def _finger_blocks(readings: Readings, axes: Axes, setting: Setting) -> Iterator[Block]:
    share = np.where(readings.exact, setting.exact_share, 1.0)[:, None]
    cents = habit_cents(axes) * magnitudes.size_of("habit")
    each, first = _joint(readings.player, readings.note)
    yield _block("fingers note", _one_hot(each) * share, cents[readings.note[first]], size="habit")
    pinched = np.array([float(n.fingering == "thumb") for n in axes.notes])[readings.note]
    thumb = _one_hot(readings.player) * pinched[:, None] * share
    yield _block("fingers thumb", thumb, magnitudes.THUMB_HABIT_CENTS, size="habit")
    if len(axes.players) + len(axes.instruments) > 2:
        own, first = _joint(readings.player, readings.instrument, readings.note)
        own_cents = _OWN_SHARE * cents[readings.note[first]]
        yield _block("fingers here", _one_hot(own) * share, own_cents, size="habit")
    checked = np.where(readings.exact, readings.note, NOBODY)
    again, first = _joint(readings.sitting, checked)
    again_cents = FIXED.exact_again * cents[readings.note[first]]
    yield _block("passing fingers", _one_hot(again), again_cents, size="habit")


def _range_blocks(readings: Readings, bending: Bending) -> Iterator[Block]:
    """A note that speaks at a higher breath is blown below its middle, where it was tuned."""
    place, first = _joint(readings.instrument, readings.note)
    slope = bending.cents_per_db[readings.instrument[first], readings.note[first]]
    here, usual = _one_hot(place), (~readings.middle & ~readings.matched)[:, None]
    made = _block("instrument range", here, FIXED.range_db)
    pitch = RANGE_SHARE * slope * here
    yield Block(made.name, made.sd, made.group, pitch=pitch, breath=-here * usual)


def _breath_blocks(readings: Readings, axes: Axes) -> Iterator[Block]:
    usual = (~readings.middle & ~readings.matched)[:, None]
    octave, upper = axes.octaves[readings.note][:, None], axes.upper[readings.note][:, None]
    player = _one_hot(readings.player)
    blown = player * usual
    yield _block("breath level", blown, FIXED.breath_db, acts="breath")
    shapes = (
        ("breath tilt", blown * octave, FIXED.breath_tilt_db),
        ("breath bow", blown * _bow(octave[:, 0]), FIXED.breath_bow_db),
        ("breath register", blown * upper, FIXED.breath_register_db),
    )
    for name, columns, sd in shapes:
        yield _block(name, columns, sd, size="breath", acts="breath")
    each, _ = _joint(readings.player, readings.note)
    db = magnitudes.size_of("breath")
    yield _block("breath note", _one_hot(each) * usual, db, size="breath", acts="breath")
    if len(axes.players) + len(axes.instruments) > 2:
        own, _ = _joint(readings.player, readings.instrument, readings.note)
        here = _one_hot(own) * usual
        yield _block("breath here", here, _OWN_SHARE * db, size="breath", acts="breath")
    swelled = player * readings.middle[:, None]
    yield _block("passing swell", swelled, FIXED.swell_db, acts="breath")
    yield _block("passing swell tilt", swelled * octave, FIXED.swell_tilt_db, acts="breath")


def _level_blocks(readings: Readings, axes: Axes) -> Iterator[Block]:
    octave = axes.octaves[readings.note][:, None]
    instrument = _one_hot(readings.instrument)
    position = _one_hot(readings.position)
    yield _block("passing gain", position, FIXED.gain_db, acts="level")
    yield _block("loudness tilt", instrument * octave, FIXED.loudness_tilt_db, acts="level")
    bow = instrument * _bow(octave[:, 0])
    yield _block("loudness bow", bow, FIXED.loudness_bow_db, acts="level")
    each, _ = _joint(readings.instrument, readings.note)
    db = magnitudes.size_of("loudness")
    yield _block("loudness note", _one_hot(each), db, size="loudness", acts="level")
    if len(axes.rooms) > 1:
        place, _ = _joint(readings.room, readings.note)
        sd = magnitudes.size_of("room")
        yield _block("passing room", _one_hot(place), sd, size="room", acts="level")


def _single_blocks(readings: Readings, bending: Bending, breath_db: Array) -> Iterator[Block]:
    """Effects of a single tone, and the error of a note's slope."""
    tone = np.where(readings.sitting >= 0, np.arange(len(readings)), NOBODY)
    alone = _one_hot(tone, len(readings))
    usual = ~readings.middle & ~readings.matched
    size = np.where(readings.middle, "middle", "breath repeat")
    medians = np.array([magnitudes.size_of(str(s)) for s in size])
    sd = np.where(readings.matched, FIXED.matched_db, medians)
    sd = np.where(readings.loose & ~readings.matched, sd * _LOOSER, sd)
    group = np.array([FREE.index(str(s)) for s in size], dtype=np.intp)
    group = np.where(readings.matched, FIXED_SIZE, group)
    yield Block("passing breath", sd, group, breath=alone)
    shaded = np.flatnonzero((readings.matched | (readings.loose & usual)) & (tone >= 0))
    cents = np.where(readings.matched[shaded], FIXED.shading_cents, FIXED.loose_cents)
    yield _block("passing shading", alone[:, shaded], cents)
    each, first = _joint(readings.instrument, readings.note)
    error = bending.cents_per_db_sd[readings.instrument[first], readings.note[first]]
    yield _block("bend", _one_hot(each) * breath_db[:, None], error)
