"""How a held note went: how it was reached, where it went towards its end, how even its level."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from intonation.heldnotes.traced_note import TracedNote
from intonation.tracking.trace import PitchTrace

BEGINNING_S, HELD_FROM_S, RELEASED_S = 0.1, 0.15, 0.05
SHORTEST_S = 0.6
"""A shorter note has no beginning, middle and end to tell apart (design judgement)."""


@dataclass(frozen=True, slots=True)
class Course:
    """What a note did from its onset to its end. None means unknown.

    Parameters
    ----------
    beginning_cents
        Where the first tenth of a second lay, counted from the middle of the note.
    first_cents, middle_cents, last_cents
        Deviation from the target in each third of the held part.
    level_range_db
        From the softest to the loudest moment of the held part, the extreme 5 % left out.
    """

    beginning_cents: float | None
    first_cents: float
    middle_cents: float
    last_cents: float
    level_range_db: float | None

    @property
    def end_change_cents(self) -> float:
        """How far the last third lies above (or, negative, below) the middle one."""
        return self.last_cents - self.middle_cents


def course_of(note: TracedNote) -> Course | None:
    """Return how a note went; None without a trace or for a note that is too short."""
    trace = note.trace
    if trace is None or len(trace.cents) * trace.step_s < SHORTEST_S:
        return None
    held = held_part(trace, note.off_target_cents)
    if len(held) < 6:
        return None
    third = len(held) // 3
    middle = median(held[third : len(held) - third])
    return Course(
        beginning_cents=_beginning(trace, note.off_target_cents, middle),
        first_cents=median(held[:third]),
        middle_cents=middle,
        last_cents=median(held[len(held) - third :]),
        level_range_db=_range(held_part(trace, trace.level_db)),
    )


def held_part(trace: PitchTrace, points: Sequence[float | None]) -> list[float]:
    """Return the known points of a trace between the note's attack and its release, in order."""
    ends_s = len(trace.cents) * trace.step_s - RELEASED_S
    timed = zip(trace.times_s, points, strict=True)
    return [value for at, value in timed if value is not None and HELD_FROM_S <= at <= ends_s]


def _beginning(
    trace: PitchTrace, points: Sequence[float | None], middle_cents: float
) -> float | None:
    timed = zip(trace.times_s, points, strict=True)
    first = [value for at, value in timed if value is not None and at < BEGINNING_S]
    return median(first) - middle_cents if first else None


def _range(levels: Sequence[float]) -> float | None:
    if len(levels) < 6:
        return None
    ordered = sorted(levels)
    aside = len(ordered) // 20
    return ordered[-1 - aside] - ordered[aside]
