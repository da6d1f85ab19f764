"""Notes that one tone cannot decide are asked for once more."""

import numpy as np
import pytest

from intonation.diagnosis.check import CheckStep, new_check
from intonation.diagnosis.confirming import MOST_NOTES, confirming_steps, doubtful_notes
from intonation.heldnotes.row import HeldNoteRow, Kind
from tests.support.worlds import CHROMATIC


def row(midi: int, kind: Kind, cents: float) -> HeldNoteRow:
    return HeldNoteRow(
        event=0, player="p", instrument="i", session="s", midi=midi, kind=kind, cents=cents
    )


def both(midi: int, always: float, exact: float) -> list[HeldNoteRow]:
    return [row(midi, "natural", always), row(midi, "careful", exact)]


def test_a_note_that_differs_by_more_than_all_others_is_doubtful() -> None:
    # with exact fingers every note is 6 cents lower; that is no note's own
    rows = [row for midi in (70, 72, 74, 76) for row in both(midi, 6.0, 0.0)]
    assert doubtful_notes([*rows, *both(81, 20.0, 0.0), *both(83, -9.0, 0.0)]) == (83, 81)


def test_swells_and_notes_of_one_pass_say_nothing() -> None:
    swell = row(70, "careful-swell", 30.0)
    assert doubtful_notes([*both(70, 0.0, 0.0), swell, row(72, "natural", 30.0)]) == ()
    assert doubtful_notes([]) == ()


@pytest.mark.parametrize("off", [12.0, -12.0])
def test_only_the_worst_few_are_asked_for(off: float) -> None:
    rows = [r for midi in CHROMATIC for r in both(midi, 0.0, 0.0)]
    rows += [r for midi in CHROMATIC[:9] for r in both(midi, off, 0.0) * 2]
    assert len(doubtful_notes(rows)) == MOST_NOTES


def test_they_make_one_more_pass_in_the_order_in_which_they_came_first() -> None:
    played = new_check("short", CHROMATIC, np.random.default_rng(1)).ahead
    first, second = played[3], played[9]
    assert confirming_steps(played, (second.midi, first.midi)) == (
        CheckStep(2, "A", first.midi, 30),
        CheckStep(2, "A", second.midi, 31),
    )
