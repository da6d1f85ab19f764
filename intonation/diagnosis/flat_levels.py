"""Levels that say nothing of breath: constant ones, or those of an automatic gain."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

import numpy as np

from intonation.diagnosis.readings import Array, Axes, Flags, Numbers, Readings
from intonation.diagnosis.swell_shape import SwellShape
from intonation.heldnotes.row import HeldNoteRow

Place = tuple[str, str]
"""A session and a microphone."""

_FEWEST_NOTES = 5
_LEAST_SPREAD_DB = 0.5
_FEWEST_SWELLS = 3
_LEAST_SWELL_DB = 2.0
"""Notes differ in loudness, and swells grow, by far more than this (design judgement)."""


def flat_places(readings: Readings, shapes: Sequence[SwellShape], axes: Axes) -> set[Place]:
    """Return the microphone positions of which the levels are not to be believed.

    Parameters
    ----------
    readings
        Plain tones, then the middles of the swells.
    shapes
        Of the swells, in the same order.
    axes
        Names of the positions.
    """
    swells, mean_range_db = _swells_at(readings, shapes, len(axes.positions))
    grow = (swells > 0) & (mean_range_db >= _LEAST_SWELL_DB)
    # Swells that grow prove the levels, however alike the notes of a steady player sound.
    flat = (_hardly_differ(readings, axes) | (swells >= _FEWEST_SWELLS)) & ~grow
    return {axes.positions[index] for index in np.flatnonzero(flat).tolist()}


def without_levels(rows: Iterable[HeldNoteRow], places: Collection[Place]) -> list[HeldNoteRow]:
    """Return the rows; those from these places have no level."""
    return [
        replace(row, level_db=None) if (row.session, row.microphone or "") in places else row
        for row in rows
    ]


def _hardly_differ(readings: Readings, axes: Axes) -> Flags:
    positions = len(axes.positions)
    known = np.isfinite(readings.level_db)
    place, level_db = readings.position[known], readings.level_db[known]
    tones = np.maximum(np.bincount(place, minlength=positions), 1)
    mean = np.bincount(place, weights=level_db, minlength=positions) / tones
    off = (level_db - mean[place]) ** 2
    variance = np.bincount(place, weights=off, minlength=positions) / tones
    each = place * len(axes.notes) + readings.note[known]
    heard = np.bincount(each, minlength=positions * len(axes.notes)) > 0
    notes = heard.reshape(positions, len(axes.notes)).sum(axis=1)
    flat: Flags = (notes >= _FEWEST_NOTES) & (variance < _LEAST_SPREAD_DB**2)
    return flat


def _swells_at(
    readings: Readings, shapes: Sequence[SwellShape], positions: int
) -> tuple[Numbers, Array]:
    """Return the number of swells with a level at each position, and their mean range in dB."""
    where = readings.position[len(readings) - len(shapes) :]
    range_db = np.array([shape.range_db for shape in shapes], dtype=float)
    known = np.isfinite(range_db)
    swells = np.bincount(where[known], minlength=positions)
    total = np.bincount(where[known], weights=range_db[known], minlength=positions)
    return swells, total / np.maximum(swells, 1)
