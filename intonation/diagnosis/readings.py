"""Readings: what every held note and every swell's middle says, in columns ready for arithmetic."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, fields, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Numbers = NDArray[np.intp]

K = TypeVar("K", bound=Hashable)

NOBODY = -1
"""Index of an entity that a reading does not have."""


@dataclass(frozen=True, slots=True)
class Fingered:
    """A note by its fingering: what the player does, not only what sounds."""

    midi: int
    fingering: str


@dataclass(frozen=True, slots=True)
class Axes:
    """Everyone and everything that readings refer to by index.

    Parameters
    ----------
    players, instruments
        Names.
    sittings
        (session, player, instrument) triples.
    positions
        Microphone settings that share a gain, as (session, microphone).
    rooms
        Microphone positions that share a place in the room: by their name, or one per session.
    notes
        Fingered notes in order of pitch.
    """

    players: tuple[str, ...]
    instruments: tuple[str, ...]
    sittings: tuple[tuple[str, str, str], ...]
    positions: tuple[tuple[str, str], ...]
    rooms: tuple[tuple[str, str], ...]
    notes: tuple[Fingered, ...]

    @property
    def octaves(self) -> Array:
        """Octaves of every note from the middle of the compass."""
        midi = np.array([note.midi for note in self.notes], dtype=float)
        return (midi - (midi.min() + midi.max()) / 2.0) / 12.0 if len(midi) else midi

    @property
    def upper(self) -> Array:
        """1 for every note of the upper register (from the lowest pinched note up), else 0."""
        pinched = [note.midi for note in self.notes if note.fingering == "thumb"]
        lowest = min(pinched, default=np.inf)
        return np.array([float(note.midi >= lowest) for note in self.notes])


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """Readings in columns of equal length. NaN is an unknown number.

    Parameters
    ----------
    player, instrument, sitting, position, room, note
        Indices into the axes; ``NOBODY`` for none.
    day
        Index of the day: the sitting's, unless sittings are taken to be of one day.
    exact
        Fingers checked.
    middle
        Middle of a swell: the breath is the middle of the note's own range.
    matched
        A reference sounded or the pitch was seen: breath and shading were the player's choice.
    loose
        From a melody or a poor swell: less well defined.
    changed
        After an adjustment of the instrument that is being judged.
    minutes
        Since the player began to blow.
    celsius
        Room temperature.
    approach
        +1 if the note before was lower, -1 if higher, 0 unknown.
    cents, level_db
        What was measured. Levels are centred per microphone position.
    """

    player: Numbers
    instrument: Numbers
    sitting: Numbers
    position: Numbers
    room: Numbers
    day: Numbers
    note: Numbers
    exact: Flags
    middle: Flags
    matched: Flags
    loose: Flags
    changed: Flags
    minutes: Array
    celsius: Array
    approach: Array
    cents: Array
    level_db: Array

    def __len__(self) -> int:
        return len(self.note)

    def where(self, chosen: Flags | Numbers | slice) -> "Readings":
        """Return some of the readings."""
        return Readings(**{f.name: getattr(self, f.name)[chosen] for f in fields(self)})

    def with_levels(self, level_db: Array) -> "Readings":
        """Return the readings with other levels."""
        return replace(self, level_db=level_db)


def distinct(*indices: Numbers) -> Numbers:
    """Return the combinations of indices that occur, in order: one per row."""
    shape = [1 + int(index.max(initial=0)) for index in indices]
    found = np.unique(np.ravel_multi_index(indices, shape))
    return np.stack(np.unravel_index(found, shape), axis=1)


def stacked(*readings: Readings) -> Readings:
    """Return readings one below the other."""
    columns = {f.name: [getattr(r, f.name) for r in readings] for f in fields(Readings)}
    return Readings(**{name: np.concatenate(parts) for name, parts in columns.items()})


def planned(count: int) -> Readings:
    """Return readings of nobody and nothing, to be filled in with ``dataclasses.replace``."""
    nobody = np.full(count, NOBODY, dtype=np.intp)
    no, nothing = np.zeros(count, dtype=bool), np.zeros(count)
    return Readings(
        player=nobody,
        instrument=nobody,
        sitting=nobody,
        position=nobody,
        room=nobody,
        day=nobody,
        note=nobody,
        exact=no,
        middle=no,
        matched=no,
        loose=no,
        changed=no,
        minutes=np.full(count, np.nan),
        celsius=np.full(count, np.nan),
        approach=nothing,
        cents=nothing,
        level_db=nothing,
    )


def numbered(keys: Iterable[K]) -> dict[K, int]:
    """Return each distinct key with its index, in order of appearance."""
    return {key: place for place, key in enumerate(dict.fromkeys(keys))}
