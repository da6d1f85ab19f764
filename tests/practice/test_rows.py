"""The row that is kept of a scored note."""

from intonation.instruments.library import instrument_named
from intonation.practice.events import NoteScored
from intonation.practice.rows import held_note_row
from intonation.practice.session import PracticeSession
from intonation.practice.settings import PracticeSettings
from tests.support.held_notes import held_note

SETTINGS = PracticeSettings(player="reed", drone_midi=65, temperature_c=21.0)
ALTO = instrument_named("alto")


def scored_in_a_take(f0_hz: float, *, revealed: bool = False) -> NoteScored:
    session = PracticeSession(SETTINGS, ALTO, headphones=True)
    session.start(0.0)
    session.reveal(revealed)
    (score,) = session.hear(held_note(f0_hz, onset_s=30.0))
    assert isinstance(score, NoteScored)
    return score


def test_a_row_keeps_who_played_what_on_which_instrument() -> None:
    note = scored_in_a_take(466.0)
    row = held_note_row(note, settings=SETTINGS, instrument=ALTO, session="monday", event=7)
    assert (row.event, row.player, row.instrument, row.session) == (7, "reed", "alto", "monday")
    assert (row.midi, row.fingering, row.kind, row.order) == (70, "fork", "matched", 1)
    assert row.cents == note.scored.cents
    assert row.reference
    assert row.blind
    assert row.temperature_c == 21.0


def test_minutes_count_from_the_first_breath_of_the_sitting() -> None:
    row = held_note_row(
        scored_in_a_take(466.0),
        settings=SETTINGS,
        instrument=ALTO,
        session="monday",
        minutes_before=4.0,
    )
    assert row.minutes == 4.5


def test_a_note_that_was_seen_is_not_kept_as_blind() -> None:
    note = scored_in_a_take(466.0, revealed=True)
    assert not held_note_row(note, settings=SETTINGS, instrument=ALTO, session="s").blind
