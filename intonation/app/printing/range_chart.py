"""The instrument's range as a figure: notes from low to high, cents from flat to sharp."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from textual.content import Content

from intonation.app import habit_words, words
from intonation.app.printing.inks import RULE, SOFT, STRONG, deviation_ink
from intonation.habits.habit import NoteHabit
from intonation.pitch.notes import note_name

SPAN_CENTS, WIDE_SPAN_CENTS = 30, 50
"""The figure reaches so far to either side, or further where a note needs it."""

WINDOW_CENTS = 10
_EIGHT_OF_TEN = 1.2815515655446004
"""Half of the interval that holds 80 % of a normal distribution, in standard deviations."""

_LEFT = 10
_NAME_LINES = 2
_MOST_ROWS_A_STEP = 5
_WIDEST_STEP = 4
_MARKED = "on $chosen"


@dataclass(slots=True)
class _Sheet:
    """Rows of characters, each with its ink."""

    rows: int
    columns: int
    characters: list[list[str]] = field(init=False)
    inks: list[list[str]] = field(init=False)

    def __post_init__(self) -> None:
        self.characters = [[" "] * self.columns for _ in range(self.rows)]
        self.inks = [[SOFT] * self.columns for _ in range(self.rows)]

    def put(self, row: int, column: int, character: str, ink: str) -> None:
        self.characters[row][column], self.inks[row][column] = character, ink

    def line(self, row: int) -> Content:
        return Content.assemble(*zip(self.characters[row], self.inks[row], strict=True))


def range_chart(
    habits: Sequence[NoteHabit],
    *,
    notes: Sequence[int],
    marked: int,
    width: int,
    room: int,
    whose: Mapping[int, str] | None = None,
) -> Content:
    """Return the figure.

    Parameters
    ----------
    habits
        What is known of the notes.
    notes
        MIDI numbers from low to high: the notes of the instrument.
    marked
        The note that is marked.
    width, room
        Width of the page, and the lines that there are for the figure with the names under it.
    whose
        For notes with a verdict, the letter that stands under it; None leaves the line out.
    """
    step = max(1, min(_WIDEST_STEP, (width - _LEFT) // len(notes)))
    span = _span(habits)
    rows = _rows(room - _NAME_LINES - (whose is not None), span)
    sheet = _Sheet(rows, _LEFT + step * len(notes))
    _rule(sheet, span)
    known = {habit.midi: habit for habit in habits}
    for place, midi in enumerate(notes):
        column = _LEFT + step * place
        if midi in known:
            _draw(sheet, known[midi], column, span)
    lines = [sheet.line(row) for row in range(rows)]
    lines += _names(notes, step)
    if whose is not None:
        letters = "".join(whose.get(midi, " ").ljust(step) for midi in notes)
        lines.append(Content.styled(f"{habit_words.WHOSE:<{_LEFT}}{letters}", SOFT))
    at = _LEFT + step * notes.index(marked)
    return Content("\n").join([_with_mark(line, at) for line in lines])


def _span(habits: Sequence[NoteHabit]) -> int:
    furthest = max((abs(one.usual.mean) for one in habits if one.usual), default=0.0)
    return SPAN_CENTS if furthest <= SPAN_CENTS else WIDE_SPAN_CENTS


def _rows(room: int, span: int) -> int:
    """Return how many rows fit, if every ten cents are to lie on a row of their own."""
    between = span // 5
    return 1 + between * min(max(1, (room - 1) // between), _MOST_ROWS_A_STEP)


def _row(cents: float, span: int, rows: int) -> int:
    inside = min(max(cents, -span), span)
    return round((span - inside) / (2 * span) * (rows - 1))


def _rule(sheet: _Sheet, span: int) -> None:
    """Draw the lines of zero and of the window, and the numbers beside them."""
    for cents in range(-span, span + 1, 10):
        row = _row(cents, span, sheet.rows)
        label = f"{'+' if cents > 0 else '−' if cents < 0 else ''}{abs(cents)}"
        word = words.SHARP if cents == span else words.FLAT if cents == -span else ""
        for column, character in enumerate(f"{word:<5}{label:>4} "):
            sheet.put(row, column, character, SOFT)
        line = "─" if cents == 0 else "┈" if abs(cents) == WINDOW_CENTS else " "
        for column in range(_LEFT, sheet.columns):
            sheet.put(row, column, line, RULE)


def _draw(sheet: _Sheet, habit: NoteHabit, column: int, span: int) -> None:
    usual = habit.usual
    if usual is None:
        sheet.put(_row(0.0, span, sheet.rows), column, "·", STRONG)
        return
    ink = deviation_ink(usual.mean)
    reach = _EIGHT_OF_TEN * (habit.spread_cents or 0.0)
    for low, high, character in (
        (usual.mean - reach, usual.mean + reach, "│"),
        (usual.low, usual.high, "┃"),
    ):
        top, bottom = _row(high, span, sheet.rows), _row(low, span, sheet.rows)
        for row in range(top, bottom + 1):
            sheet.put(row, column, character, ink)
    beyond = abs(usual.mean) > span
    mark = ("▲" if usual.mean > 0 else "▼") if beyond else "◆"
    sheet.put(_row(usual.mean, span, sheet.rows), column, mark, f"bold {ink}")


def _names(notes: Sequence[int], step: int) -> list[Content]:
    """Return the letters of the notes, an accidental alone for those between, and the octaves."""
    letters, octaves = [" " * _LEFT], [" " * _LEFT]
    for place, midi in enumerate(notes):
        name = note_name(midi)
        letter, accidental = name[0], name[1:].rstrip("-0123456789")
        letters.append((accidental or letter).ljust(step))
        begins = place == 0 or (letter == "C" and not accidental)
        octaves.append((name[len(letter + accidental) :] if begins else "").ljust(step))
    return [
        Content.styled("".join(letters).rstrip(), STRONG),
        Content.styled("".join(octaves).rstrip(), SOFT),
    ]


def _with_mark(line: Content, column: int) -> Content:
    """Return a line with the marked note's column on another ground."""
    return line.pad_right(max(0, column + 1 - line.cell_length)).stylize(
        _MARKED, column, column + 1
    )
