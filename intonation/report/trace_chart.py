"""Held notes over time as a drawing of text: cents about the target, and the breath beneath."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from intonation.heldnotes.traced_note import TracedNote
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.braille import Braille
from intonation.report.cells import signed
from intonation.report.course_points import between, seconds_of, usual
from intonation.words.numbers import rounded

MARGIN = 9
"""Columns at the left for the numbers of both axes."""

NARROWEST = 10
"""A note beside others takes at least so many columns."""

SHARPER, FLATTER = "▴", "▾"
"""Stand at the edge where the pitch lies beyond the axis."""

_SPANS = {
    15: (10, 0, -10),
    30: (20, 10, 0, -10, -20),
    60: (40, 20, 0, -20, -40),
    120: (100, 50, 0, -50, -100),
}
_WINDOW_CENTS = 10
_LEVEL_ROWS, _LEAST_SPAN_DB = 2, 12.0
_BLOCKS = " ▁▂▃▄▅▆▇█"
_GAP = 2


@dataclass(frozen=True, slots=True)
class _Scale:
    """What all notes of a drawing have in common."""

    span_cents: int
    rows: int
    loudest_db: float
    level_span_db: float

    def row(self, cents: float) -> int:
        """Return the row of a deviation."""
        place = (self.span_cents - cents) / (2.0 * self.span_cents) * self.rows
        return min(max(int(place), 0), self.rows - 1)


def that_fit(notes: Sequence[TracedNote], *, width: int) -> int:
    """Return how many notes can be drawn side by side."""
    return max(1, min(len(notes), (width - MARGIN + _GAP) // (NARROWEST + _GAP)))


def trace_lines(notes: Sequence[TracedNote], *, width: int, rows: int) -> Iterator[str]:
    """Yield one note, or several side by side, as lines.

    Parameters
    ----------
    notes
        What is drawn, no more than `that_fit`.
    width
        Width in characters.
    rows
        Height of the cents axis in lines; an odd number puts the target on a line of its own.
    """
    scale = _scale_of(notes, rows)
    widths = _widths(notes, width - MARGIN)
    panels = [list(_panel(n, c, scale)) for n, c in zip(notes, widths, strict=True)]
    for label, *cells in zip(_labels(scale), *panels, strict=True):
        yield f"{label}{(' ' * _GAP).join(cells)}".rstrip()


def _scale_of(notes: Sequence[TracedNote], rows: int) -> _Scale:
    cents = [abs(c) for note in notes for c in usual(note, note.off_target_cents)]
    farthest = max([*cents, *(abs(note.cents) for note in notes)], default=0.0)
    span = next((span for span in _SPANS if farthest <= span), max(_SPANS))
    levels = [db for note in notes if note.trace for db in usual(note, note.trace.level_db)]
    loudest = float(ceil(max(levels, default=0.0)))
    wanted = loudest - min(levels, default=loudest)
    return _Scale(span, rows, loudest, max(_LEAST_SPAN_DB, 6.0 * ceil(wanted / 6.0)))


def _widths(notes: Sequence[TracedNote], width: int) -> list[int]:
    """Return columns in proportion to the notes' lengths, none too narrow."""
    room = width - _GAP * (len(notes) - 1)
    spare = max(0, room - NARROWEST * len(notes))
    total_s = sum(map(seconds_of, notes)) or 1.0
    return [NARROWEST + int(spare * seconds_of(note) / total_s) for note in notes]


def _labels(scale: _Scale) -> Iterator[str]:
    """Yield what stands at the left of every line."""
    ticks = {scale.row(cents): cents for cents in _SPANS[scale.span_cents]}
    yield " " * MARGIN
    for row in range(scale.rows):
        word = {0: say("sharp"), scale.rows - 1: say("flat")}.get(row, "")
        number = signed(ticks[row], 0) if row in ticks else word
        yield f"{number:>{MARGIN - 2}} {'┤' if row in ticks else '│'}"
    yield f"{say('cents'):>{MARGIN - 2}} └"
    yield f"{'s':>{MARGIN - 2}}  "
    yield f"{say('breath'):>{MARGIN - 2}} │"
    softest = rounded(scale.loudest_db - scale.level_span_db)
    yield f"{softest + ' dB':>{MARGIN - 2}} │"


def _panel(note: TracedNote, columns: int, scale: _Scale) -> Iterator[str]:
    """Yield heading, curve, time and breath of one note, each line as wide as the others."""
    yield f"{note_name(note.midi)} {signed(note.cents, 0)}".ljust(columns)[:columns]
    yield from _curve(note, columns, scale)
    yield from _times(note, columns)
    yield from _breath(note, columns, scale)


def _curve(note: TracedNote, columns: int, scale: _Scale) -> Iterator[str]:
    drawing = Braille(columns, scale.rows)
    edges: dict[tuple[int, int], str] = {}
    for place, values in enumerate(between(note, note.off_target_cents, 2 * columns)):
        inside = [v for v in values if abs(v) <= scale.span_cents]
        if inside:
            tops = [(scale.span_cents - v) / (2.0 * scale.span_cents) for v in inside]
            drawing.line(place, min(tops), max(tops))
        elif values:
            sharp = values[0] > 0
            edges[0 if sharp else scale.rows - 1, place // 2] = SHARPER if sharp else FLATTER
    for row in range(scale.rows):
        grid = _grid(row, scale)
        cells = (edges.get((row, c)) or drawing.cell(c, row) or grid for c in range(columns))
        yield "".join(cells)


def _grid(row: int, scale: _Scale) -> str:
    if row == scale.row(0):
        return "─"
    return "┄" if row in (scale.row(_WINDOW_CENTS), scale.row(-_WINDOW_CENTS)) else " "


def _times(note: TracedNote, columns: int) -> Iterator[str]:
    """Yield a rule with a tick for every second or more, and the seconds under it."""
    seconds = seconds_of(note)
    each_s = next((s for s in (1, 2, 5, 10, 30, 60) if s * columns >= 4 * seconds), 300)
    rule, numbers = ["─"] * columns, [" "] * columns
    for moment_s in range(0, ceil(seconds) or 1, each_s):
        column = int(moment_s / (seconds or 1.0) * columns)
        text = str(moment_s)
        if column + len(text) <= columns:
            rule[column] = "┬"
            numbers[column : column + len(text)] = text
    yield "".join(rule)
    yield "".join(numbers)


def _breath(note: TracedNote, columns: int, scale: _Scale) -> Iterator[str]:
    levels = note.trace.level_db if note.trace else ()
    heights = [
        _height(max(values, default=None), scale) for values in between(note, levels, columns)
    ] or [0] * columns
    full = len(_BLOCKS) - 1
    for row in reversed(range(_LEVEL_ROWS)):
        yield "".join(_BLOCKS[min(max(height - row * full, 0), full)] for height in heights)


def _height(level_db: float | None, scale: _Scale) -> int:
    if level_db is None:
        return 0
    share = 1.0 - (scale.loudest_db - level_db) / scale.level_span_db
    return round(min(max(share, 0.0), 1.0) * _LEVEL_ROWS * (len(_BLOCKS) - 1))
