"""Tables of numbers: the notes of a take in order, and the take summed up, worst first."""

from collections.abc import Sequence

from textual.content import Content

from intonation.app import words
from intonation.app.cents_axis import WINDOW_CENTS, CentsAxis
from intonation.app.printing.card import signed
from intonation.app.printing.figures import axis_for
from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT, deviation_ink
from intonation.assessment.summary import NoteSummary, TakeSummary
from intonation.pitch.notes import note_name
from intonation.practice.events import NoteScored
from intonation.words.numbers import rounded

_SUMMARY_WIDTH = 36
_MARGIN = 4


def notes_in_order(notes: Sequence[NoteScored], *, rows: int) -> Content:
    """Return the latest notes of a take under a heading, the latest first.

    Parameters
    ----------
    notes
        Every note of the take, the oldest first.
    rows
        How many lines there is room for, the heading included.
    """
    latest = list(reversed(notes))[: max(0, rows - 1)]
    heading = Content.styled(words.NOTES_HEADING, SOFT)
    return Content("\n").join([heading, *map(_note_row, latest)])


def _note_row(note: NoteScored) -> Content:
    held, target = note.scored.held, note.scored.target
    cents = note.scored.cents
    return Content.assemble(
        (f"{note.number:>4}", SOFT),
        (f"   {note_name(target.midi):<4}", STRONG),
        (f"{signed(cents, 1):>7} {words.sharp_or_flat(cents):<6}", deviation_ink(cents)),
        (f"{rounded(held.sd_cents, 1):>8}", TEXT),
        (f"{signed(held.drift_cents_per_s, 1):>9}", TEXT),
        (f"{rounded(held.level_db):>7}", TEXT),
        (f"{held.duration_s:>7.1f}", TEXT),
        (f"    {target.interval or ''}", SOFT),
    )


def summary_heading(*, width: int) -> Content:
    """Return the heading over the summed-up notes."""
    axis = axis_for(width, beside=_SUMMARY_WIDTH + _MARGIN)
    ends = f"{words.FLAT:<{axis.width - len(words.SHARP)}}{words.SHARP}"
    return Content.styled(f"{words.SUMMARY_HEADING:<{_SUMMARY_WIDTH}}{ends}", SOFT)


def summary_rows(summary: TakeSummary, *, width: int) -> Content:
    """Return each note of a take with mean, spread and count, and its mark on a common axis."""
    axis = axis_for(width, beside=_SUMMARY_WIDTH + _MARGIN)
    return Content("\n").join([_summary_row(note, axis) for note in summary.notes])


def summary_axis(*, width: int) -> Content:
    """Return the axis that the rows' marks are read against."""
    axis = axis_for(width, beside=_SUMMARY_WIDTH + _MARGIN)
    indent = " " * _SUMMARY_WIDTH
    return Content.assemble(indent, (axis.rule(), RULE), "\n", indent, (axis.numbers(), SOFT))


def _summary_row(note: NoteSummary, axis: CentsAxis) -> Content:
    cents = note.mean_cents
    ink = deviation_ink(cents)
    spread = rounded(note.spread_cents, 1) if note.count > 1 else ""
    return Content.assemble(
        (f"  {note_name(note.midi):<5}", STRONG),
        (f"{signed(cents, 1):>7} {words.sharp_or_flat(cents):<6}", ink),
        (f"{spread:>6}{note.count:>6}".ljust(_SUMMARY_WIDTH - 21), TEXT),
        _plotted(axis, note, ink),
    )


def _plotted(axis: CentsAxis, note: NoteSummary, ink: str) -> Content:
    """Return the mark and its spread over the faint lines of zero and of the window."""
    mark = axis.mark(note.mean_cents, spread_cents=note.spread_cents).ljust(axis.width)
    columns = {axis.column(cents) for cents in (-WINDOW_CENTS, 0, WINDOW_CENTS)}
    grid = "".join("│" if column in columns else " " for column in range(axis.width))
    cells = [
        (grid_cell, RULE) if mark_cell == " " else (mark_cell, ink)
        for mark_cell, grid_cell in zip(mark, grid, strict=True)
    ]
    return Content.assemble(*cells)
