"""Tables as plain text: aligned columns, narrow enough for a terminal."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

WIDTH = 80
"""No table of ours is wider, unless a name in it is."""

_GAP = "  "


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    Parameters
    ----------
    heading
        What stands above it.
    numeric
        Whether its cells stand flush right, as numbers do.
    """

    heading: str
    numeric: bool = True


def table_lines(columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Yield a table line by line: headings, a thin rule, then each row."""
    cells = [list(row) for row in rows]
    widths = [
        max(len(text) for text in (column.heading, *(row[number] for row in cells)))
        for number, column in enumerate(columns)
    ]
    yield _line([column.heading for column in columns], columns, widths)
    yield "─" * (sum(widths) + len(_GAP) * (len(widths) - 1))
    for row in cells:
        yield _line(row, columns, widths)


def _line(cells: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> str:
    placed = (
        cell.rjust(width) if column.numeric else cell.ljust(width)
        for cell, column, width in zip(cells, columns, widths, strict=True)
    )
    return _GAP.join(placed).rstrip()
