"""What could be played next: on one note in this sitting, or on all notes in another one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.readings import Numbers, Readings, stacked
from intonation.diagnosis.results import Experiment

TONE_SECONDS = 7.0
SWELL_SECONDS = 11.0
"""Plain tone, and careful tone with its swell, with the pauses between them."""

_ON_ONE_NOTE: tuple[tuple[Experiment, tuple[int, ...], float], ...] = (
    ("natural", (0, 1), 2 * TONE_SECONDS),
    ("careful-swell", (2, 3), SWELL_SECONDS),
    ("natural and careful-swell", (0, 2, 3), TONE_SECONDS + SWELL_SECONDS),
)
"""Experiments on one note: which of its planned tones they take, and their seconds."""
_ON_ALL: tuple[Experiment, ...] = ("another day", "second instrument", "second player")
_WARM_MINUTES = 8.0


@dataclass(frozen=True, slots=True)
class Candidate:
    """An experiment on one note (with None: on all), and its readings among the planned ones."""

    experiment: Experiment
    note: int | None
    rows: Numbers
    seconds: float


def planned_tones(
    ideal: Readings, seen: Readings, open_notes: Sequence[int]
) -> tuple[Readings, list[Candidate]]:
    """Return readings that could be taken, and the experiments that they make up.

    Parameters
    ----------
    ideal
        One imagined reading of every note of one pair.
    seen
        Everything that was measured.
    open_notes
        Indices into ``ideal`` of the notes to be settled.
    """
    here = np.flatnonzero(
        (seen.player == ideal.player[0]) & (seen.instrument == ideal.instrument[0])
    )
    last = seen.where(here[[-1]])
    tones: list[Readings] = []
    candidates: list[Candidate] = []
    for count, note in enumerate(open_notes):
        tones.append(_on_one_note(ideal.where(np.array([note])), last))
        for experiment, wanted, seconds in _ON_ONE_NOTE:
            rows = 4 * count + np.array(wanted)
            candidates.append(Candidate(experiment, note, rows, seconds))
    start, each = 4 * len(tones), 3 * len(ideal)
    seconds = len(ideal) * (TONE_SECONDS + SWELL_SECONDS)
    for count, experiment in enumerate(_ON_ALL):
        tones.append(_on_all(ideal, seen, experiment, count))
        rows = start + count * each + np.arange(each)
        candidates.append(Candidate(experiment, None, rows, seconds))
    return stacked(*tones), candidates


def _on_one_note(ideal: Readings, last: Readings) -> Readings:
    """Return two usual tones, a careful one and a swell's middle, in the last sitting."""
    return replace(
        stacked(ideal, ideal, ideal, ideal),
        sitting=np.repeat(last.sitting, 4),
        position=np.repeat(last.position, 4),
        room=np.repeat(last.room, 4),
        day=np.repeat(last.day, 4),
        minutes=np.repeat(last.minutes, 4),
        exact=np.array([False, False, True, True]),
        middle=np.array([False, False, False, True]),
    )


def _on_all(ideal: Readings, seen: Readings, experiment: Experiment, which: int) -> Readings:
    """Return a usual tone, a careful one and a swell's middle of every note, in a new sitting."""
    count = len(ideal)
    check = replace(
        stacked(ideal, ideal, ideal),
        sitting=np.full(3 * count, seen.sitting.max() + 1 + which),
        position=np.full(3 * count, seen.position.max() + 1 + which),
        room=np.full(3 * count, seen.room.max() + 1 + which),
        day=np.full(3 * count, seen.day.max() + 1 + which),
        minutes=np.full(3 * count, _WARM_MINUTES),
        exact=np.repeat([False, True, True], count),
        middle=np.repeat([False, False, True], count),
    )
    if experiment == "second instrument":
        return replace(check, instrument=np.full(3 * count, seen.instrument.max() + 1))
    if experiment == "second player":
        return replace(check, player=np.full(3 * count, seen.player.max() + 1))
    return check
