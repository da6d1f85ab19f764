"""Players as print: the list with one line marked, and several compared on one instrument."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby

from textual.content import Content

from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT
from intonation.app.printing.workshop import wrapped
from intonation.assessment.summary import NoteSummary
from intonation.report.compared_chart import compared_chart_lines
from intonation.report.player_table import PairRow, compared_lines, pair_lines
from intonation.words.report import COMPARED

_RULED = "─│┴"


def player_list(pairs: Sequence[PairRow], *, marked: int, width: int) -> Content:
    """Return every player with every instrument, one of them marked."""
    heading, rule, *rows = pair_lines(pairs, width=width - len("▸ "))
    lines = [Content.styled(f"  {heading}", SOFT), Content.styled(f"  {rule}", RULE)]
    for place, row in enumerate(rows):
        is_marked = place == marked
        text = f"{'▸' if is_marked else ' '} {row}"
        lines.append(Content.styled(text, STRONG if is_marked else TEXT))
    return Content("\n").join(lines)


def players_compared(
    players: Mapping[str, tuple[NoteSummary, ...]], *, width: int, as_numbers: bool
) -> Content:
    """Return players of one instrument on one axis, or as a table."""
    if as_numbers:
        drawn = [Content.styled(line, TEXT) for line in compared_lines(players)]
    else:
        drawn = _inked(compared_chart_lines(players, width=width))
    return Content("\n").join([*drawn, Content(""), wrapped([COMPARED], width=width, ink=SOFT)])


def _inked(lines: Iterable[str]) -> list[Content]:
    return [
        Content.assemble(
            *(("".join(group), RULE if ruled else TEXT) for ruled, group in _pieces(line))
        )
        for line in lines
    ]


def _pieces(line: str) -> Iterable[tuple[bool, Iterable[str]]]:
    return groupby(line, lambda character: character in _RULED)
