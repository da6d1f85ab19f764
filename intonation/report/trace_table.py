"""The same as the drawing of held notes, as numbers."""

from collections.abc import Iterable, Iterator
from math import ceil

from intonation.assessment.course import course_of
from intonation.heldnotes.traced_note import TracedNote
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import deviation, number, signed
from intonation.report.course_points import seconds_of
from intonation.report.table import Column, table_lines

_STEPS_S = (0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 30.0)
_MOMENTS = (Column(say("from s")), Column(say("cents")), Column(say("level dB")))
_NOTES = (
    Column(say("no.")),
    Column(say("note"), numeric=False),
    Column(say("cents")),
    Column(say("begins")),
    Column(say("1st")),
    Column(say("2nd")),
    Column(say("3rd")),
    Column(say("spread")),
    Column(say("dB")),
    Column(say("secs")),
)


def moment_lines(note: TracedNote, *, rows: int) -> Iterator[str]:
    """Yield the mean pitch and level of one note stretch by stretch, in at most so many rows."""
    if note.trace is None:
        return
    seconds = seconds_of(note)
    step_s = next((s for s in _STEPS_S if ceil(seconds / s) <= rows), seconds / max(rows, 1))
    columns = max(1, ceil(seconds / step_s))
    points = max(1, round(step_s / note.trace.step_s))
    cells = []
    for place in range(columns):
        stretch = slice(place * points, (place + 1) * points)
        cents = _mean(note.off_target_cents[stretch])
        level = _mean(note.trace.level_db[stretch])
        shown = number(None) if cents is None else deviation(cents)
        cells.append((f"{place * step_s:.2f}", shown, number(level)))
    yield from table_lines(_MOMENTS, cells)


def note_lines(notes: Iterable[TracedNote]) -> Iterator[str]:
    """Yield how each note went, a row for each."""
    return table_lines(_NOTES, map(note_cells, notes))


def note_cells(note: TracedNote) -> tuple[str, ...]:
    """Return the row of a note: where it lay, began, and was in each third of its held part."""
    course = course_of(note)
    thirds: tuple[float | None, ...] = (None, None, None, None)
    if course is not None:
        thirds = (
            course.beginning_cents,
            course.first_cents,
            course.middle_cents,
            course.last_cents,
        )
    return (
        str(note.number),
        note_name(note.midi),
        deviation(note.cents),
        *(signed(cents) for cents in thirds),
        number(note.sd_cents),
        number(course.level_range_db if course else None),
        number(note.duration_s),
    )


def _mean(points: Iterable[float | None]) -> float | None:
    known = [point for point in points if point is not None]
    return sum(known) / len(known) if known else None
