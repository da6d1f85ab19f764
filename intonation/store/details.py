"""What is kept of a held note beyond its row: its place in the take, its target and its advice."""

from dataclasses import dataclass

from intonation.practice.events import NoteScored


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldNoteDetails:
    """Columns of the practice record that the exchange table does not have. None means unknown.

    Parameters
    ----------
    number
        Running number in the take, from 1.
    duration_s
        Length from onset to offset.
    f0_hz, target_hz
        What sounded, and what should have.
    standard_error_cents
        Standard error of the measured pitch.
    cents_per_db
        How the pitch followed the level.
    vibrato_hz, vibrato_cents
        Rate and extent of a vibrato.
    remedy, reason, predicted_cents
        What was advised, why (keys of `intonation.assessment.advice`), and the expected change.
    """

    number: int | None = None
    duration_s: float | None = None
    f0_hz: float | None = None
    target_hz: float | None = None
    standard_error_cents: float | None = None
    cents_per_db: float | None = None
    vibrato_hz: float | None = None
    vibrato_cents: float | None = None
    remedy: str | None = None
    reason: str | None = None
    predicted_cents: float | None = None


NO_DETAILS = HeldNoteDetails()


def details_of(note: NoteScored) -> HeldNoteDetails:
    """Return the details of a note of a practice session."""
    held, advice = note.scored.held, note.advice
    return HeldNoteDetails(
        number=note.number,
        duration_s=held.duration_s,
        f0_hz=held.f0_hz,
        target_hz=note.scored.target.hz,
        standard_error_cents=held.standard_error_cents,
        cents_per_db=held.cents_per_db,
        vibrato_hz=held.vibrato_hz,
        vibrato_cents=held.vibrato_cents,
        remedy=advice.remedy,
        reason=advice.reason,
        predicted_cents=advice.predicted_cents,
    )
