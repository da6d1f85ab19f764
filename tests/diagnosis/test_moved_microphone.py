"""A microphone, or its gain, that was moved in the middle of a check, and nobody said so."""

from dataclasses import replace

import numpy as np
import pytest

from intonation.diagnosis.diagnosing import diagnose
from intonation.diagnosis.evidence import evidence_from
from intonation.heldnotes.row import HeldNoteRow
from tests.diagnosis.test_diagnosing import covered
from tests.support.even_worlds import EVEN_WORLDS, evenly_checked
from tests.support.worlds import CHROMATIC, NATURAL, checked

Rows = list[HeldNoteRow]


def louder_from(rows: Rows, place: int, louder_db: float, *, room_db: float = 0.0) -> Rows:
    """Return the rows as a microphone hears them that is moved at some place of the table."""
    rng = np.random.default_rng(place)
    shift = dict(zip(CHROMATIC, rng.normal(louder_db, room_db, len(CHROMATIC)), strict=True))
    return rows[:place] + [
        replace(row, level_db=row.level_db + shift[row.midi])
        for row in rows[place:]
        if row.level_db is not None
    ]


@pytest.mark.parametrize("louder_db", [-6.0, 5.0, 20.0])
def test_levels_after_a_move_say_what_they_would_have_said_without_it(louder_db: float) -> None:
    rows, _ = checked(320)
    place = next(i for i, row in enumerate(rows) if i > 120 and row.kind == "careful")
    still, moved = evidence_from(rows), evidence_from(louder_from(rows, place, louder_db))
    assert len(moved.axes.positions) == len(still.axes.positions) + 1
    off = moved.readings.level_db - still.readings.level_db
    for position in (0, 1):
        here = off[moved.readings.position == position]
        # Two tones about the move may be taken to the wrong side of it.
        assert np.count_nonzero(np.abs(here - np.median(here)) > 1e-6) <= 2


@pytest.mark.parametrize("seed", range(321, 327))
def test_nothing_is_parted_where_nothing_was_moved(seed: int) -> None:
    for rows, _ in (checked(seed), evenly_checked(seed, EVEN_WORLDS["even"])):
        assert len(evidence_from(rows).axes.positions) == 1


def test_one_tone_of_wild_level_is_no_move() -> None:
    rows, _ = checked(327)
    wild = [replace(row, level_db=90.0) if i == 40 else row for i, row in enumerate(rows)]
    assert len(evidence_from(wild).axes.positions) == 1


def test_intervals_hold_though_the_microphone_was_moved_between_the_passes() -> None:
    cases = []
    for seed in range(328, 331):
        rows, truth = checked(seed, passes="AB", notes=NATURAL)
        moved = louder_from(rows, len(NATURAL), 7.0, room_db=1.7)
        cases.append((diagnose(moved)[0], truth))
    assert covered(cases) > 0.82
