"""The held-note table as CSV text: rows out, rows in, every mistake named by row and column."""

import io
from collections.abc import Iterable, Iterator
from dataclasses import fields

from intonation.errors import DataFileError
from intonation.heldnotes.columns import COLUMN_READERS
from intonation.heldnotes.csv_table import cell_text, csv_line, records_in
from intonation.heldnotes.row import HeldNoteRow
from intonation.language import say

COLUMNS: tuple[str, ...] = tuple(field.name for field in fields(HeldNoteRow))
"""Columns in the order in which they are written."""

REQUIRED = frozenset({"event", "player", "instrument", "session", "midi", "cents"})
"""Columns without which a row means nothing. The others may be missing or empty."""


def held_notes_csv(rows: Iterable[HeldNoteRow]) -> str:
    """Return rows as CSV text with a header."""
    return "".join(csv_lines(rows))


def csv_lines(rows: Iterable[HeldNoteRow]) -> Iterator[str]:
    """Yield the header and then each row as CSV text, one at a time, for tables of any length."""
    yield csv_line(COLUMNS)
    for row in rows:
        yield csv_line(tuple(cell_text(getattr(row, name)) for name in COLUMNS))


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
    line_of_event: dict[int, int] = {}
    records = records_in(lines, columns=COLUMN_READERS, required=REQUIRED, file_name=file_name)
    for line, values in records:
        row = HeldNoteRow(**values)  # type: ignore[arg-type]
        first_line = line_of_event.setdefault(row.event, line)
        if first_line != line:
            raise _used_twice(file_name, line, row.event, first_line)
        if row.swell_step is not None and row.swell is None:
            raise _of_no_swell(file_name, line)
        yield row


def _used_twice(file_name: str, line: int, event: int, first_line: int) -> DataFileError:
    return DataFileError(
        say(
            '{file_name}, row {line}, column "event": {event} was used in row '
            "{first_line} already.",
            file_name=file_name,
            line=line,
            event=event,
            first_line=first_line,
        ),
        say("Give every row a number of its own."),
    )


def _of_no_swell(file_name: str, line: int) -> DataFileError:
    return DataFileError(
        say(
            '{file_name}, row {line}, column "swell": it is empty, though the row has a '
            "swell_step.",
            file_name=file_name,
            line=line,
        ),
        say("Name the swell that the step belongs to, with one name for all of its steps."),
    )
