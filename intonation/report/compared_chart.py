"""Players of one instrument on a common cents axis, drawn in text: a mark of its own for each."""

from collections.abc import Iterator, Mapping

from intonation.assessment.summary import NoteSummary
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import signed

MARKS = "○◆△■▽×"
TOGETHER = "●"
"""Stands where several players' marks fall into one place."""

_WINDOW_CENTS = 10.0
_SPANS = (30.0, 60.0, 120.0)
_NAME, _NUMBER = 6, 6


def compared_chart_lines(
    players: Mapping[str, tuple[NoteSummary, ...]], *, width: int
) -> Iterator[str]:
    """Yield who has which mark, then every note with its marks and numbers, the highest first.

    Parameters
    ----------
    players
        By name, the means of every note; of more than six the first six are shown.
    width
        Width in characters.
    """
    shown = dict(list(players.items())[: len(MARKS)])
    yield from _legend(list(shown), width)
    by_note = [{note.midi: note.mean_cents for note in notes} for notes in shown.values()]
    room = max(21, width - _NAME - _NUMBER * len(shown))
    columns = room - (room - 1) % 6
    span = _span([cents for of in by_note for cents in of.values()])
    yield ""
    for midi in sorted({midi for of in by_note for midi in of}, reverse=True):
        cents = [of.get(midi) for of in by_note]
        numbers = "".join(f"{signed(value, 0):>{_NUMBER}}" for value in cents)
        yield f"{note_name(midi):<{_NAME}}{_marked(cents, columns, span)}{numbers}"
    yield from _axis(columns, span)


def _legend(names: list[str], width: int) -> Iterator[str]:
    line = ""
    for mark, name in zip(MARKS, names, strict=False):
        entry = f"{mark} {name}"[: width - 2]
        if line and len(line) + 3 + len(entry) > width:
            yield line
            line = ""
        line = f"{line}   {entry}" if line else entry
    together = say("{together} several", together=TOGETHER) if len(names) > 1 else ""
    if len(line) + 3 + len(together) > width:
        yield line
        line = ""
    yield f"{line}   {together}".strip()


def _span(cents: list[float]) -> float:
    farthest = max(map(abs, cents), default=0.0)
    return next((span for span in _SPANS if farthest <= span), _SPANS[-1])


def _column(cents: float, columns: int, span: float) -> int:
    inside = min(max(cents, -span), span)
    return round((inside + span) / (2.0 * span) * (columns - 1))


def _marked(cents: list[float | None], columns: int, span: float) -> str:
    line = [" "] * columns
    for at in (-_WINDOW_CENTS, 0.0, _WINDOW_CENTS):
        line[_column(at, columns, span)] = "│"
    taken: set[int] = set()
    for mark, value in zip(MARKS, cents, strict=False):
        if value is not None:
            column = _column(value, columns, span)
            line[column] = TOGETHER if column in taken else mark
            taken.add(column)
    return "".join(line)


def _axis(columns: int, span: float) -> Iterator[str]:
    rule, numbers = ["─"] * columns, [" "] * columns
    for cents in (-span, -span / 3.0 * 2.0, -span / 3.0, 0.0, span / 3.0, span / 1.5, span):
        rule[_column(cents, columns, span)] = "┴"
        text = signed(cents, 0)
        start = min(max(_column(cents, columns, span) - len(text) // 2, 0), columns - len(text))
        numbers[start : start + len(text)] = text
    yield f"{'':{_NAME}}{''.join(rule)}"
    yield f"{say('cents'):<{_NAME}}{''.join(numbers)}"
