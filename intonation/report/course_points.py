"""The points of a trace as a drawing wants them: by column, and without the edges of the note."""

from collections.abc import Iterator, Sequence
from math import ceil

from intonation.assessment.course import held_part
from intonation.heldnotes.traced_note import TracedNote

Points = Sequence[float | None]


def seconds_of(note: TracedNote) -> float:
    """Return how long the trace of a note is; 0 without one."""
    return len(note.trace.cents) * note.trace.step_s if note.trace else 0.0


def usual(note: TracedNote, points: Points) -> list[float]:
    """Return the known points within the held part of a note, in order."""
    return [] if note.trace is None else held_part(note.trace, points)


def between(note: TracedNote, points: Points, columns: int) -> Iterator[list[float]]:
    """Yield for every column of a drawing the values that are passed through in it."""
    if note.trace is None or not points:
        return
    step_s = note.trace.step_s
    column_s = seconds_of(note) / columns
    parts = max(1, ceil(column_s / step_s))
    for column in range(columns):
        times = (column_s * (column + (part + 0.5) / parts) for part in range(parts))
        values = (_at(points, time_s / step_s - 0.5) for time_s in times)
        yield [value for value in values if value is not None]


def _at(points: Points, place: float) -> float | None:
    """Return the value between two points, both of which must be known."""
    inside = min(max(place, 0.0), len(points) - 1.0)
    first = int(inside)
    one, other = points[first], points[min(first + 1, len(points) - 1)]
    if one is None or other is None:
        return one
    return one + (inside - first) * (other - one)
