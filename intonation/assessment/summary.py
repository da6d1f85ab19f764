"""A take as a whole: every note with its mean, spread and count, worst first."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NoteSummary:
    """All held notes of one pitch in a take.

    Parameters
    ----------
    midi
        The note.
    mean_cents, spread_cents
        Mean deviation from the target, and standard deviation (0.0 for one note).
    count
        Number of held notes.
    """

    midi: int
    mean_cents: float
    spread_cents: float
    count: int


@dataclass(frozen=True, slots=True)
class TakeSummary:
    """Every note of a take, worst first, and the note to practise next (None: nothing was held)."""

    notes: tuple[NoteSummary, ...]
    practise_next_midi: int | None
