"""The held-note table as CSV text: rows out, rows in, every mistake named by row and column."""

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import fields

from intonation.errors import DataFileError
from intonation.heldnotes.columns import COLUMN_READERS, Cell
from intonation.heldnotes.row import HeldNoteRow

COLUMNS: tuple[str, ...] = tuple(field.name for field in fields(HeldNoteRow))
"""Columns in the order in which they are written."""

REQUIRED = frozenset({"event", "player", "instrument", "session", "midi", "cents"})
"""Columns without which a row means nothing. The others may be missing or empty."""

_QUOTED_LINE_END = "\r\n"
"""The writer puts a cell in quotes only if it holds a character of the line end it was given."""


def held_notes_csv(rows: Iterable[HeldNoteRow]) -> str:
    """Return rows as CSV text with a header."""
    return "".join(csv_lines(rows))


def csv_lines(rows: Iterable[HeldNoteRow]) -> Iterator[str]:
    """Yield the header and then each row as CSV text, one at a time, for tables of any length."""
    yield _line(COLUMNS)
    for row in rows:
        yield _line(tuple(_written(getattr(row, name)) for name in COLUMNS))


def _line(cells: tuple[str, ...]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator=_QUOTED_LINE_END).writerow(cells)
    return text.getvalue().removesuffix(_QUOTED_LINE_END) + "\n"


def _written(value: object) -> str:
    if value is None:
        return ""
    return str(int(value)) if isinstance(value, bool) else str(value)


def read_held_notes(text: str, *, file_name: str) -> list[HeldNoteRow]:
    """Return the rows of a CSV text.

    Parameters
    ----------
    text
        The whole file, decoded.
    file_name
        Named in every complaint.

    Raises
    ------
    DataFileError
        At the first mistake; the sentence names file, row, column and what was expected.
    """
    return list(rows_in(io.StringIO(text.removeprefix("\ufeff"), newline=""), file_name=file_name))


def rows_in(lines: Iterable[str], *, file_name: str) -> Iterator[HeldNoteRow]:
    """Yield the rows of a CSV text line by line, for tables of any length.

    Raises
    ------
    DataFileError
        At the first mistake; rows before it have been yielded.
    """
    records = _records(lines, file_name)
    _, names = next(records, (1, []))
    _check_header(names, file_name)
    places = [(at, name) for at, name in enumerate(names) if name in COLUMNS]
    line_of_event: dict[int, int] = {}
    for line, cells in records:
        if not any(cells):
            continue
        if len(cells) != len(names):
            raise DataFileError(
                f"{file_name}, row {line}: {len(cells)} cells stand under {len(names)} columns.",
                "Give every row as many cells as the header, leaving unknown ones empty.",
            )
        row = _row(places, cells, line=line, file_name=file_name)
        first_line = line_of_event.setdefault(row.event, line)
        if first_line != line:
            raise DataFileError(
                f'{file_name}, row {line}, column "event": {row.event} was used in row '
                f"{first_line} already.",
                "Give every row a number of its own.",
            )
        yield row


def _records(lines: Iterable[str], file_name: str) -> Iterator[tuple[int, list[str]]]:
    """Yield each record with the number of the line on which it ends."""
    reader = csv.reader(lines, strict=True)
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise DataFileError(
                f"{file_name}, row {reader.line_num}: this is not CSV text ({error}).",
                "Save the table again as CSV, UTF-8, with commas between the columns.",
            ) from error
        yield reader.line_num, cells


def _check_header(names: list[str], file_name: str) -> None:
    missing = [name for name in COLUMNS if name in REQUIRED and name not in names]
    if len(names) == 1 and ";" in names[0]:
        problem = "the columns are separated by semicolons"
    elif missing:
        problem = f'the header has no column "{missing[0]}"'
    elif len({*names}) < len(names):
        twice = next(name for name in names if names.count(name) > 1)
        problem = f'the header has the column "{twice}" twice'
    else:
        return
    raise DataFileError(
        f"{file_name}, row 1: {problem}.",
        f"Begin with a header row, separated by commas: {', '.join(COLUMNS)}.",
    )


def _row(
    places: list[tuple[int, str]], cells: list[str], *, line: int, file_name: str
) -> HeldNoteRow:
    """Return the row that the cells at the known columns' places make."""
    values: dict[str, Cell] = {}
    for at, name in places:
        cell = cells[at]
        if not cell and name not in REQUIRED:
            continue
        column = COLUMN_READERS[name]
        try:
            values[name] = column.read(cell)
        except ValueError:
            raise DataFileError(
                f'{file_name}, row {line}, column "{name}": "{_shortened(cell)}" is not '
                f"{column.expected}.",
                f"Write {column.expected}, for example {column.example}.",
            ) from None
    return HeldNoteRow(**values)  # type: ignore[arg-type]


def _shortened(cell: str) -> str:
    printable = "".join(c if c.isprintable() else "?" for c in cell)
    return printable if len(printable) <= 40 else f"{printable[:37]}..."
