"""From a scored note of a practice session to the row that is kept of it."""

from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.instrument import Instrument
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings


def held_note_row(
    note: NoteScored,
    *,
    settings: PracticeSettings,
    instrument: Instrument,
    session: str,
    event: int = 0,
    minutes_before: float = 0.0,
) -> HeldNoteRow:
    """Return the row of a note that was held against the drone.

    Parameters
    ----------
    note
        What the practice session said.
    settings, instrument
        What it was practised with.
    session
        Identifier of the sitting.
    event
        Running number in the store or file; 0 leaves it to the store.
    minutes_before
        Minutes that the player had blown in this sitting before the sound's first sample.
    """
    held, target = note.scored.held, note.scored.target
    fingering = instrument.fingering(target.midi)
    return HeldNoteRow(
        event=event,
        player=settings.player,
        instrument=settings.instrument,
        session=session,
        midi=target.midi,
        fingering=fingering.kind if fingering else "plain",
        kind="matched",
        order=note.number,
        minutes=minutes_before + held.onset_s / 60.0,
        temperature_c=settings.temperature_c,
        cents=note.scored.cents,
        level_db=held.level_db,
        sd_cents=held.sd_cents,
        drift_cents_per_s=held.drift_cents_per_s,
        reference=True,
        blind=note.blind,
        previous_midi=note.previous_midi,
    )
