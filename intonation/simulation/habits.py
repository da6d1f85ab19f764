"""A simulated player's habits. All magnitudes are invented for simulation."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How someone plays, whatever the instrument.

    Parameters
    ----------
    low_breath_db, second_breath_db
        Breath in the first and second register, relative to an ordinary one.
    sag_db
        Breath lost towards the end of a note of four seconds.
    thumb_cents
        What the habitual thumb slit does to pinched notes.
    matching
        Share of a deviation from a pure interval that is corrected once a reference is heard,
        0 to 1; the correction is made with the breath.
    wander_db
        Slow unsteadiness of the breath, as a standard deviation.
    jitter_cents
        Fast unsteadiness of the pitch, as a standard deviation.
    vibrato_hz, vibrato_cents
        Rate, and extent (half of peak to peak); no vibrato at 0 cents.
    breath_noise_db
        Level of the breath's noise relative to the fundamental.
    """

    low_breath_db: float = 0.0
    second_breath_db: float = 0.0
    sag_db: float = 0.0
    thumb_cents: float = 0.0
    matching: float = 0.0
    wander_db: float = 0.1
    jitter_cents: float = 0.6
    vibrato_hz: float = 5.0
    vibrato_cents: float = 0.0
    breath_noise_db: float = -28.0


EXACT = Habits(wander_db=0.0, jitter_cents=0.0)
"""Plays exactly what the instrument gives."""
