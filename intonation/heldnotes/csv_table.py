"""A table as CSV text: lines out, records in, every mistake named by file, row and column."""

import csv
import io
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from intonation.errors import DataFileError
from intonation.heldnotes.columns import Cell, Column
from intonation.language import say

_QUOTED_LINE_END = "\r\n"
"""The writer puts a cell in quotes only if it holds a character of the line end it was given."""

_DECIMAL_COMMA = re.compile(r"-?[0-9]+,[0-9]+", re.ASCII)

Record = dict[str, Cell]


class _Place(NamedTuple):
    """Where the cells of a column stand in a line, and whether they must not be empty."""

    at: int
    name: str
    column: Column
    required: bool


def csv_line(cells: Sequence[str]) -> str:
    """Return cells as one line of CSV text."""
    text = io.StringIO()
    csv.writer(text, lineterminator=_QUOTED_LINE_END).writerow(cells)
    return text.getvalue().removesuffix(_QUOTED_LINE_END) + "\n"


def cell_text(value: object) -> str:
    """Return a value as the text of a cell; what is unknown is empty."""
    if value is None:
        return ""
    return str(int(value)) if isinstance(value, bool) else str(value)


def records_in(
    lines: Iterable[str],
    *,
    columns: Mapping[str, Column],
    required: Collection[str],
    file_name: str,
) -> Iterator[tuple[int, Record]]:
    """Yield every record with the number of its line, read line by line.

    Parameters
    ----------
    lines
        CSV text with a header.
    columns
        How the cells of each known column are read; columns with other names are passed over.
    required
        Columns that must be there and must not be empty.
    file_name
        Named in every complaint.

    Raises
    ------
    DataFileError
        At the first mistake; records before it have been yielded.
    """
    found = _cells_in(lines, file_name)
    line, header = next(((line, cells) for line, cells in found if any(cells)), (1, []))
    names = [name.strip() for name in header]
    _check_header(names, columns, required, (file_name, line))
    places = [
        _Place(at, name, columns[name], name in required)
        for at, name in enumerate(names)
        if name in columns
    ]
    for line, cells in found:
        if not any(cells):
            continue
        if len(cells) != len(names):
            raise DataFileError(
                say(
                    "{file_name}, row {line}: {cells} cells stand under {names} columns.",
                    file_name=file_name,
                    line=line,
                    cells=len(cells),
                    names=len(names),
                ),
                say(
                    "Give every row as many cells as the header, leaving unknown ones empty, and "
                    "write decimals with a point, not a comma."
                ),
            )
        yield line, _record(cells, places, file_name, line)


def _cells_in(lines: Iterable[str], file_name: str) -> Iterator[tuple[int, list[str]]]:
    """Yield each record's cells with the number of the line on which it ends."""
    reader = csv.reader(lines, strict=True)
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise DataFileError(
                say(
                    "{file_name}, row {line_num}: this is not CSV text ({error}).",
                    file_name=file_name,
                    line_num=reader.line_num,
                    error=error,
                ),
                say("Save the table again as CSV, UTF-8, with commas between the columns."),
            ) from error
        yield reader.line_num, cells


def _check_header(
    names: list[str],
    columns: Mapping[str, Column],
    required: Collection[str],
    where: tuple[str, int],
) -> None:
    problem = _header_problem(names, [name for name in columns if name in required])
    if problem is None:
        return
    file_name, line = where
    raise DataFileError(
        say("{file_name}, row {line}: {problem}.", file_name=file_name, line=line, problem=problem),
        say("Begin with a header row, separated by commas: {columns}.", columns=", ".join(columns)),
    )


def _header_problem(names: list[str], required: Sequence[str]) -> str | None:
    missing = next((name for name in required if name not in names), None)
    if not names:
        return say("the table is empty")
    if len(names) == 1 and ";" in names[0]:
        return say("the columns are separated by semicolons")
    if len(names) == 1 and "\t" in names[0]:
        return say("the columns are separated by tabs")
    if missing is not None:
        return say('the header has no column "{missing}"', missing=missing)
    twice = next((name for name in names if name and names.count(name) > 1), None)
    return None if twice is None else say('the header has the column "{twice}" twice', twice=twice)


def _record(cells: Sequence[str], places: Sequence[_Place], file_name: str, line: int) -> Record:
    record: Record = {}
    for at, name, column, required in places:
        cell = cells[at]
        if cell or required:
            try:
                record[name] = column.read(cell)
            except ValueError:
                raise _mistake(cell, column, (file_name, line, name)) from None
    return record


def _mistake(cell: str, column: Column, where: tuple[str, int, str]) -> DataFileError:
    file_name, line, name = where
    return DataFileError(
        say(
            '{file_name}, row {line}, column "{name}": "{shortened}" is not {expected}.',
            file_name=file_name,
            line=line,
            name=name,
            shortened=_shortened(cell),
            expected=column.expected,
        ),
        _advice(cell, column),
    )


def _advice(cell: str, column: Column) -> str:
    if _DECIMAL_COMMA.fullmatch(cell.strip()):
        return say("Write decimals with a point: {number}.", number=cell.strip().replace(",", "."))
    return say(
        "Write {expected}, for example {example}.", expected=column.expected, example=column.example
    )


def _shortened(cell: str) -> str:
    printable = "".join(c if c.isprintable() else "?" for c in cell)
    return printable if len(printable) <= 40 else f"{printable[:37]}..."
