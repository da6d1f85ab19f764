"""Notes as they were played, in columns: what every habit is worked out from."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Numbers = NDArray[np.intp]

AS_USUAL = ("natural", "matched", "melody")
"""Kinds of held notes that show a habit; careful notes and swells are played unlike usual."""

WRONG_NOTE_CENTS = 60.0
"""Further from its target than this a note is another note or a squeak, not a habit (design
judgement: half way to the next note is 50 cents)."""


class PlayedNote(NamedTuple):
    """One held note as the practice record gives it.

    Parameters
    ----------
    sitting
        Number of the sitting.
    day
        Its day as a proleptic Gregorian ordinal; None if unknown.
    midi, kind, cents, level_db, drift_cents_per_s, reference, blind, previous_midi
        As on a held-note row.
    duration_s
        Length from onset to offset.
    """

    sitting: int
    day: int | None
    midi: int
    kind: str
    cents: float
    level_db: float | None
    drift_cents_per_s: float | None
    duration_s: float | None
    reference: bool
    blind: bool
    previous_midi: int | None


@dataclass(frozen=True, slots=True, eq=False)
class Played:
    """The notes that count, one place for each in every column; NaN where something is unknown.

    Parameters
    ----------
    notes
        MIDI numbers of the notes that occur, lowest first.
    note
        Index into ``notes``.
    sitting
        Sittings numbered from 0 without gaps, in their order.
    day, cents, level_db, drift_cents_per_s, duration_s, previous_midi
        As on a played note.
    reference, melody
        Whether a reference sounded, and whether it was a note of a melody.
    """

    notes: tuple[int, ...]
    note: Numbers
    sitting: Numbers
    day: Array
    cents: Array
    level_db: Array
    drift_cents_per_s: Array
    duration_s: Array
    previous_midi: Array
    reference: NDArray[np.bool_]
    melody: NDArray[np.bool_]

    def __len__(self) -> int:
        """Return the number of held notes."""
        return len(self.note)

    @property
    def midi(self) -> Numbers:
        """The MIDI number of each held note."""
        return np.array(self.notes, dtype=np.intp)[self.note]

    def where(self, chosen: NDArray[np.bool_]) -> "Played":
        """Return the chosen notes, numbered as before."""
        columns = (field.name for field in fields(self) if field.name != "notes")
        return Played(self.notes, *(getattr(self, name)[chosen] for name in columns))


def played_from(kept: Sequence[PlayedNote]) -> Played:
    """Return the notes that show a habit, in columns.

    Left out are careful notes and swells, notes that were corrected by eye, and wrong notes.
    """
    columns = PlayedNote(*zip(*kept, strict=True)) if kept else PlayedNote(*[()] * 11)  # type: ignore[arg-type]
    cents = _numbers(columns.cents)
    counts = np.isin(np.array(columns.kind, dtype=str), AS_USUAL)
    counts &= np.array(columns.blind, dtype=bool) & (np.abs(cents) <= WRONG_NOTE_CENTS)
    midi = np.array(columns.midi, dtype=np.intp)[counts]
    sitting = np.array(columns.sitting, dtype=np.intp)[counts]
    notes, note = np.unique(midi, return_inverse=True)
    return Played(
        tuple(int(one) for one in notes),
        note.astype(np.intp),
        np.unique(sitting, return_inverse=True)[1].astype(np.intp),
        _numbers(columns.day)[counts],
        cents[counts],
        _numbers(columns.level_db)[counts],
        _numbers(columns.drift_cents_per_s)[counts],
        _numbers(columns.duration_s)[counts],
        _numbers(columns.previous_midi)[counts],
        np.array(columns.reference, dtype=bool)[counts],
        (np.array(columns.kind, dtype=str) == "melody")[counts],
    )


def _numbers(values: object) -> Array:
    """Return numbers with NaN for None."""
    return np.array(values, dtype=np.float64)
