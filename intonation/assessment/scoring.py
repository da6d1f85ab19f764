"""A held note against its target."""

from dataclasses import dataclass

from intonation.tracking.events import HeldNote


@dataclass(frozen=True, slots=True)
class Target:
    """What a note should have been.

    Parameters
    ----------
    midi
        The note.
    hz
        Its frequency in the chosen tuning.
    interval
        Name of the interval over the reference note, for example ``"fifth"``; None without one.
    reference_midi
        The sounding reference note that the interval is counted from.
    tuning
        Name of the temperament, or ``"pure"``.
    """

    midi: int
    hz: float
    interval: str | None
    reference_midi: int | None
    tuning: str


@dataclass(frozen=True, slots=True)
class ScoredNote:
    """A held note, its target, and the distance between them (positive when sharp)."""

    held: HeldNote
    target: Target
    cents: float
