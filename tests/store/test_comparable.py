"""Notes held to different targets say the same of an instrument once they are comparable."""

from datetime import UTC, datetime

import pytest

from intonation.heldnotes.row import HeldNoteRow
from intonation.practice.settings import PracticeSettings
from intonation.store.comparable import comparable_notes
from intonation.store.details import HeldNoteDetails
from intonation.store.store import Store

MORNING = datetime(2031, 3, 15, 9, 0, tzinfo=UTC)


def _note(cents: float) -> HeldNoteRow:
    return HeldNoteRow(
        event=0, player="wren", instrument="alto", session="morning", midi=69, cents=cents
    )


def test_a_third_held_pure_counts_as_flat_of_equal_temperament() -> None:
    # 5/4 over F4: 386.314 cents, 13.686 less than equal; arithmetic of the ratio itself
    pure_hz = 440.0 * 2 ** (-4 / 12) * 5 / 4
    with Store(None) as store:
        settings = PracticeSettings(player="wren", instrument="alto", a4_hz=440.0)
        take = store.begin_take("morning", settings=settings, began_at=MORNING)
        details = HeldNoteDetails(target_hz=pure_hz)
        store.add_held_note(_note(1.0), details=details, take=take, held_at=MORNING)
        (held,) = comparable_notes(store.database, player="wren")
    assert held.cents == pytest.approx(1.0 - 13.686, abs=0.001)


def test_notes_of_a_table_without_targets_are_taken_as_they_are() -> None:
    with Store(None) as store:
        store.add_held_note(_note(-7.5))
        assert [note.cents for note in comparable_notes(store.database)] == [-7.5]
        assert not list(comparable_notes(store.database, instrument="tenor"))
