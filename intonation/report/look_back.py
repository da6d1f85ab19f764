"""A take looked back at, in plain lines: drawings side by side, numbers, and each note in words."""

from collections.abc import Iterator, Sequence

from intonation.assessment.course import course_of
from intonation.heldnotes.traced_note import TracedNote
from intonation.pitch.notes import note_name
from intonation.report.paragraphs import paragraph
from intonation.report.table import WIDTH
from intonation.report.trace_chart import that_fit, trace_lines
from intonation.report.trace_table import note_lines
from intonation.words.numbers import sharp_or_flat
from intonation.words.trace import NO_TRACE, TOO_SHORT, course_in_words

_ROWS = 11


def look_back_lines(notes: Sequence[TracedNote]) -> Iterator[str]:
    """Yield every note of a take, drawn, then as numbers, then in words."""
    drawn = [note for note in notes if note.trace is not None]
    count = that_fit(drawn, width=WIDTH)
    for place in range(0, len(drawn), count):
        yield from trace_lines(drawn[place : place + count], width=WIDTH, rows=_ROWS)
        yield ""
    yield from note_lines(notes)
    yield ""
    for note in notes:
        yield from paragraph(_said(note))


def _said(note: TracedNote) -> str:
    course = course_of(note)
    said = TOO_SHORT if course is None else course_in_words(course)
    if note.trace is None:
        said = NO_TRACE
    return f"{note.number}  {note_name(note.midi)}, {sharp_or_flat(note.cents, 1)}. {said}"
