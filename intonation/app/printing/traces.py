"""A take looked back at, as print: notes over time with the breath beneath, or as numbers."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from textwrap import wrap

from textual.content import Content

from intonation.app import trace_words
from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT, deviation_ink
from intonation.assessment.course import course_of
from intonation.heldnotes.traced_note import TracedNote
from intonation.report.trace_chart import trace_lines
from intonation.report.trace_table import moment_lines, note_lines
from intonation.words.trace import NO_TRACE, TOO_SHORT, course_in_words

_CURVE, _RULED = range(0x2801, 0x2900), "─┄│┤└┬"
_BESIDE_CURVE = 5
_FEWEST_ROWS, _MOST_ROWS = 7, 31


def one_note(
    notes: Sequence[TracedNote], at: int, *, width: int, height: int, as_numbers: bool
) -> Content:
    """Return one note large.

    Parameters
    ----------
    notes, at
        Every note of the take, and which one is meant.
    width, height
        Room on the page.
    as_numbers
        Whether a table stands in place of the drawing.
    """
    note = notes[at]
    said = wrap(_said(note), max(20, width))
    above = [
        Content.styled(trace_words.note_shown(note, at + 1, len(notes)), STRONG),
        *[Content.styled(line, SOFT) for line in said],
        Content(""),
    ]
    room = height - len(above)
    if note.trace is None:
        drawn: list[Content] = []
    elif as_numbers:
        drawn = _plain(moment_lines(note, rows=max(4, room - 2)))
    else:
        drawn = _inked(trace_lines([note], width=width, rows=_rows(room)), note)
    return Content("\n").join([*above, *drawn])


def side_by_side(
    notes: Sequence[TracedNote], at: int, count: int, *, width: int, height: int, as_numbers: bool
) -> Content:
    """Return several notes on one axis; arguments as for `one_note`, and how many are meant."""
    shown = notes[at : at + count]
    said = trace_words.IN_NUMBERS if as_numbers else trace_words.ONE_AXIS
    above = [
        Content.styled(trace_words.notes_shown(at + 1, at + len(shown), len(notes)), STRONG),
        *[Content.styled(line, SOFT) for line in wrap(said, max(20, width))],
        Content(""),
    ]
    if as_numbers:
        return Content("\n").join([*above, *_plain(note_lines(shown))])
    lines = trace_lines(shown, width=width, rows=_rows(height - len(above)))
    return Content("\n").join([*above, *_inked(lines, None)])


def _said(note: TracedNote) -> str:
    course = course_of(note)
    if note.trace is None:
        return NO_TRACE
    return TOO_SHORT if course is None else course_in_words(course)


def _rows(room: int) -> int:
    """Return an odd height, so that the target has a line of its own."""
    rows = min(max(room - _BESIDE_CURVE, _FEWEST_ROWS), _MOST_ROWS)
    return rows - 1 + rows % 2


def _plain(lines: Iterable[str]) -> list[Content]:
    return [Content.styled(line, TEXT) for line in lines]


def _inked(lines: Iterable[str], note: TracedNote | None) -> list[Content]:
    """Return lines with the curve in ink and the ruling faint."""
    curve = STRONG if note is None else f"bold {deviation_ink(note.cents)}"
    return [_inked_line(line, curve) for line in lines]


def _inked_line(line: str, curve: str) -> Content:
    pieces = [("".join(group), ink) for ink, group in groupby(line, lambda c: _ink(c, curve))]
    return Content.assemble(*pieces)


def _ink(character: str, curve: str) -> str:
    if ord(character) in _CURVE or character in "▴▾":
        return curve
    return RULE if character in _RULED else SOFT
