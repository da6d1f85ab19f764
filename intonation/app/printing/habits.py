"""Habits as print: the marked note in words, all notes as numbers, one note in full."""

import textwrap
from collections.abc import Iterable, Sequence

from textual.content import Content

from intonation.app import habit_words, words
from intonation.app.cents_axis import WINDOW_CENTS, CentsAxis
from intonation.app.printing.card import signed
from intonation.app.printing.figures import axis_for
from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT, deviation_ink
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis
from intonation.habits.habit import Habits, NoteHabit, Week, clear_contexts
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.words.habits import (
    CONTEXT_NAMES,
    HOW_WORKED_OUT,
    context_in_words,
    contexts_in_words,
    day_in_words,
    from_to,
    is_said,
    overall_in_words,
    owner_in_words,
    spread_in_words,
    trend_in_words,
    usual_in_words,
)
from intonation.words.numbers import rounded

_NUMBERS_WIDTH = 53
_WEEKS_WIDTH = 46
SCROLLBAR = 2
"""Width that a long page leaves to its scroll bar."""


def sentences(texts: Iterable[str], *, width: int, ink: str = TEXT) -> list[Content]:
    """Return running text, each sentence beginning a line."""
    lines = [line for text in texts for line in textwrap.wrap(text, max(20, width)) or [""]]
    return [Content.styled(line, ink) for line in lines]


def overall(habits: Habits, *, most: int, width: int) -> Content:
    """Return what all notes have in common, at most so many sentences of it."""
    said = overall_in_words(habits)[:most]
    return Content("\n").join(sentences(said, width=width, ink=STRONG))


def note_in_brief(
    habit: NoteHabit | None, midi: int, *, owner: NoteDiagnosis | None, full: bool, width: int
) -> Content:
    """Return the marked note in two sentences; in full, also what it goes with and whose it is."""
    if habit is None:
        return Content.styled(
            say("{note} was not held in these weeks.", note=note_name(midi)), SOFT
        )
    first = sentences([usual_in_words(habit)], width=width, ink=STRONG)
    rest = [spread_in_words(habit)] if habit.usual is not None else []
    if full and habit.usual is not None:
        rest += [
            context_in_words(name, found)
            for name, found in list(clear_contexts(habit.contexts).items())[:1]
        ]
        rest += [trend_in_words(habit.trend)] if habit.trend else []
        rest += [owner_in_words(owner)] if owner else []
    return Content("\n").join([*first, *sentences([" ".join(rest)], width=width, ink=SOFT)])


def numbers_heading(*, width: int) -> Content:
    """Return the heading over the table."""
    axis = _axis(width - SCROLLBAR, _NUMBERS_WIDTH)
    ends = f"{words.FLAT:<{axis.width - len(words.SHARP)}}{words.SHARP}"
    return Content.styled(f"{habit_words.NUMBERS_HEADING:<{_NUMBERS_WIDTH}}{ends}", SOFT)


def number_rows(habits: Sequence[NoteHabit], *, marked: int, width: int) -> Content:
    """Return every note as numbers, with its interval on a common axis."""
    axis = _axis(width - SCROLLBAR, _NUMBERS_WIDTH)
    return Content("\n").join([_number_row(one, one.midi == marked, axis) for one in habits])


def numbers_axis(*, width: int) -> Content:
    """Return the axis that the table's marks are read against."""
    return _axis_lines(_axis(width - SCROLLBAR, _NUMBERS_WIDTH), _NUMBERS_WIDTH)


def _number_row(habit: NoteHabit, marked: bool, axis: CentsAxis) -> Content:
    usual = habit.usual
    name = (f"{'▸' if marked else ' '} {note_name(habit.midi):<4}", STRONG)
    if usual is None:
        line = Content.assemble(name, (f"        {is_said(habit):<34}{habit.count:>4}", TEXT))
    else:
        trend = "–" if habit.trend is None else signed(habit.trend.mean)
        line = Content.assemble(
            name,
            (f"{signed(usual.mean, 1):>7} {is_said(habit):<7}", deviation_ink(usual.mean)),
            (f"{from_to(usual):>11}", TEXT),
            (f"{rounded(habit.spread_cents or 0.0, 1):>7}", TEXT),
            (f"{trend:>8}", TEXT),
            (f"{habit.count:>5} ", TEXT),
            _plotted(axis, usual),
        )
    line = line.pad_right(max(0, _NUMBERS_WIDTH + axis.width - line.cell_length))
    return line.stylize("on $chosen", 0, 6) if marked else line


def in_full(habit: NoteHabit, owner: NoteDiagnosis | None, *, looked: bool, width: int) -> Content:
    """Return one note: its place, its weeks, what it goes with, and whose it is.

    Parameters
    ----------
    habit
        The note.
    owner
        What the instrument checks say.
    looked
        Whether they have been looked at yet.
    width
        Width of the page.
    """
    whose = owner_in_words(owner) if looked else habit_words.ASKING_CHECK
    lines = [
        *sentences([usual_in_words(habit)], width=width, ink=STRONG),
        *sentences([spread_in_words(habit)], width=width),
    ]
    if habit.usual is not None:
        lines += sentences([trend_in_words(habit.trend)], width=width)
        lines += sentences(contexts_in_words(habit), width=width)
    lines += [*sentences([whose], width=width, ink=SOFT), Content("")]
    lines += [*_week_lines(habit, width), Content(""), *_context_lines(habit, width)]
    lines += [Content(""), *sentences([HOW_WORKED_OUT], width=width, ink=SOFT)]
    return Content("\n").join(lines)


def _week_lines(habit: NoteHabit, width: int) -> list[Content]:
    if not habit.weeks:
        return [Content.styled(habit_words.NO_WEEKS, SOFT)]
    axis = _axis(width, _WEEKS_WIDTH)
    heading = f"{habit_words.WEEK_BY_WEEK:<{_WEEKS_WIDTH}}"
    ends = f"{words.FLAT:<{axis.width - len(words.SHARP)}}{words.SHARP}"
    rows = [_week_row(week, axis) for week in habit.weeks]
    return [
        Content.assemble((heading, STRONG), (ends, SOFT)),
        *rows,
        _axis_lines(axis, _WEEKS_WIDTH),
    ]


def _week_row(week: Week, axis: CentsAxis) -> Content:
    found = week.cents
    return Content.assemble(
        (f"  {day_in_words(week.monday):<13}", SOFT),
        _cents(found),
        (f"{from_to(found):>11}{week.count:>4}".ljust(_WEEKS_WIDTH - 28), TEXT),
        _plotted(axis, found),
    )


def _context_lines(habit: NoteHabit, width: int) -> list[Content]:
    """Return the contexts that are measured in cents, each as a mark with its interval."""
    shown = {name: one for name, one in habit.contexts.items() if name != "long"}
    if not shown:
        return []
    axis = _axis(width, _WEEKS_WIDTH)
    rows = [
        Content.assemble(
            (f"  {CONTEXT_NAMES[name]:<18}", SOFT),
            (f"{signed(found.mean, 1):>6}", deviation_ink(found.mean)),
            (f" {_sharper(found):<7}", deviation_ink(found.mean)),
            (f"{from_to(found):>11}".ljust(_WEEKS_WIDTH - 34), TEXT),
            _plotted(axis, found),
        )
        for name, found in shown.items()
    ]
    return [
        Content.styled(habit_words.GOES_WITH, STRONG),
        *rows,
        _axis_lines(axis, _WEEKS_WIDTH),
    ]


def _cents(found: Interval) -> tuple[str, str]:
    number = f"{signed(found.mean, 1):>6} {words.sharp_or_flat(found.mean):<6}"
    return (number, deviation_ink(found.mean))


def _sharper(found: Interval) -> str:
    word = words.sharp_or_flat(found.mean)
    return {words.SHARP: habit_words.SHARPER, words.FLAT: habit_words.FLATTER}.get(word, "")


def _axis(width: int, beside: int) -> CentsAxis:
    return axis_for(width, beside=beside)


def _axis_lines(axis: CentsAxis, indent: int) -> Content:
    left = " " * indent
    return Content.assemble(left, (axis.rule(), RULE), "\n", left, (axis.numbers(), SOFT))


def _plotted(axis: CentsAxis, found: Interval) -> Content:
    """Return the mark and its interval over the faint lines of zero and of the window."""
    half = 0.5 * (found.high - found.low)
    mark = axis.mark(found.mean, spread_cents=half).ljust(axis.width)
    columns = {axis.column(cents) for cents in (-WINDOW_CENTS, 0, WINDOW_CENTS)}
    grid = "".join("│" if column in columns else " " for column in range(axis.width))
    return Content.assemble(
        *(
            (under, RULE) if over == " " else (over, deviation_ink(found.mean))
            for over, under in zip(mark, grid, strict=True)
        )
    )
