"""Today's plan as print: each step with its length, and why it is there."""

from textual.content import Content

from intonation.app import today_words
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.app.today_state import TodayState
from intonation.habits.practice_plan import Step
from intonation.words.today import minutes_in_words, step_in_words, why_in_words

_NARROW, _WIDE = 42, 50
_ROOMY_WIDTH = 90
_GAP = 2


def plan_rows(state: TodayState, *, width: int, airy: bool) -> list[list[Content]]:
    """Return the lines of every step.

    Parameters
    ----------
    state
        The plan.
    width
        Width of the page.
    airy
        Whether there is room for blank lines.
    """
    indent = _WIDE if width >= _ROOMY_WIDTH else _NARROW
    return [
        _row(step, place, state, indent=indent, width=width) + ([Content("")] if airy else [])
        for place, step in enumerate(state.steps)
    ]


def _row(step: Step, place: int, state: TodayState, *, indent: int, width: int) -> list[Content]:
    marked, done = place == state.at, state.done[place]
    ink = STRONG if marked else SOFT if done else TEXT
    sign = today_words.DONE if done else str(place + 1)
    length = minutes_in_words(step.minutes)
    room = indent - _GAP - 5 - 7
    title = step_in_words(step)
    title = title if len(title) <= room else f"{title[: room - 1]}…"
    named = f"{'▸' if marked else ' '} {sign:>2} {title:<{room}}"
    left = Content.assemble((named, ink), (f"{length:>7}", SOFT))
    lines = beside([left], why_in_words(step), indent=indent, width=width, ink=SOFT)
    return [line.pad_right(max(0, width - line.cell_length)) for line in lines]
