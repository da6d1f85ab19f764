"""A player's archive, opened: a ZIP of CSV tables, each with a checksum, and every row checked."""

import hashlib
import io
import json
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, Any

from intonation.errors import DataFileError
from intonation.heldnotes.csv_table import Record, records_in
from intonation.interchange.archive_tables import ABOUT, FORMAT, TABLES, VERSION, Table
from intonation.language import say

LARGEST_BYTES = 4 * 2**30
"""A file that unpacks to more is refused (design judgement: some ten million held notes)."""

_LARGEST_ABOUT = 2**20
_PIECE = 2**20

Progress = Callable[[float], None]


@dataclass(slots=True)
class Archive:
    """An archive that was opened and found to be whole.

    Parameters
    ----------
    file_name
        Named in every complaint.
    player
        Whose it is.
    rows
        How many rows each table is said to have.
    """

    file_name: str
    player: str
    rows: Mapping[str, int]
    _zip: zipfile.ZipFile
    _numbers: dict[str, set[int]] = field(default_factory=dict)

    def records(self, name: str) -> Iterator[Record]:
        """Yield the rows of a table, which must be asked for after those that it refers to.

        Raises
        ------
        DataFileError
            At the first mistake; the sentence names file, row, column and what was expected.
        """
        numbers = self._numbers.setdefault(name, set())
        if name not in self.rows:
            return
        table, place = TABLES[name], f"{self.file_name}, {name}.csv"
        with self._zip.open(f"{name}.csv") as file:
            lines = io.TextIOWrapper(file, "utf-8", newline="")
            found = records_in(
                lines, columns=table.columns, required=table.required, file_name=place
            )
            for line, record in found:
                self._check(
                    record, table, numbers, say("{place}, row {line}", place=place, line=line)
                )
                yield record

    def _check(self, record: Record, table: Table, numbers: set[int], place: str) -> None:
        if record.get("player", self.player) != self.player:
            raise DataFileError(
                say(
                    '{place}, column "player": the archive is of {player}.',
                    place=place,
                    player=self.player,
                ),
                say("Export each player into an archive of their own."),
            )
        self._check_references(record, table, place)
        if len({str(record[name]).count(" ") for name in table.as_long_as}) > 1:
            names = say(" and ").join(table.as_long_as)
            raise _changed(
                say("{place}: {as_long_as} have not as many points.", place=place, as_long_as=names)
            )
        if table.number is not None:
            _check_number(record[table.number], table.number, numbers, place)

    def _check_references(self, record: Record, table: Table, place: str) -> None:
        for column, other in table.refers.items():
            number = record.get(column)
            if number is not None and number not in self._numbers.get(other, ()):
                raise _changed(
                    say(
                        '{place}, column "{column}": there is no {number} in {other}.csv.',
                        place=place,
                        column=column,
                        number=number,
                        other=other,
                    )
                )


def _check_number(number: object, column: str, earlier: set[int], place: str) -> None:
    """Refuse a number that an earlier row has, and remember it."""
    assert isinstance(number, int)
    if number in earlier:
        raise _changed(
            say(
                '{place}, column "{column}": {number} was used in an earlier row already.',
                place=place,
                column=column,
                number=number,
            )
        )
    earlier.add(number)


def _changed(sentence: str) -> DataFileError:
    return DataFileError(
        sentence, say("Export the archive again, and leave its tables as they are.")
    )


@contextmanager
def opened_archive(path: Path, *, progress: Progress = lambda _: None) -> Iterator[Archive]:
    """Open an archive, see that every table is there whole, and yield it.

    Parameters
    ----------
    path
        The file.
    progress
        Called with the share that has been looked at; an exception from it cancels.

    Raises
    ------
    DataFileError
        If it cannot be read, is damaged, of another kind or of a newer version.
    """
    with _sentences(path), zipfile.ZipFile(path) as archive:
        _check_members(archive, path)
        about = _about(archive, path)
        parts = {name: part for name, part in about["tables"].items() if name in TABLES}
        through = _telling(progress, sum(member.file_size for member in archive.infolist()))
        for name, part in parts.items():
            _check_sum(archive, name, part, path, through)
        rows = {name: int(part["rows"]) for name, part in parts.items()}
        yield Archive(str(path), about["player"], rows, archive)


@contextmanager
def _sentences(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as fault:
        raise DataFileError(
            say("{path} cannot be read ({strerror}).", path=path, strerror=fault.strerror or fault),
            say("Check its name and its folder."),
        ) from None
    except UnicodeDecodeError:
        raise _damaged(path, say("a table is not UTF-8")) from None
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError) as fault:
        raise _damaged(path, str(fault)) from None


def _damaged(path: Path, why: str) -> DataFileError:
    return DataFileError(
        say(
            "{path} is no archive of a player, or a damaged one ({why}). Nothing was taken "
            "from it.",
            path=path,
            why=why,
        ),
        say("Copy it again, or let it be written again with `intonation archive export`."),
    )


def _about(archive: zipfile.ZipFile, path: Path) -> dict[str, Any]:
    try:
        with archive.open(ABOUT) as file:
            about = json.loads(file.read(_LARGEST_ABOUT))
    except (KeyError, ValueError, RecursionError):
        raise _damaged(path, say("{about} is missing or unreadable", about=ABOUT)) from None
    if not isinstance(about, dict) or about.get("format") != FORMAT:
        raise _damaged(path, say("it says that it is something else"))
    version = about.get("version")
    if isinstance(version, int) and version > VERSION:
        raise DataFileError(
            say(
                "{path} was written by a newer version of intonation (archive {version}; "
                "this one knows {known}).",
                path=path,
                version=version,
                known=VERSION,
            ),
            say("Update intonation to read it."),
        )
    if not (isinstance(version, int) and _is_described(about)):
        raise _damaged(path, say("{about} lacks something", about=ABOUT))
    return about


def _is_described(about: Mapping[str, Any]) -> bool:
    player, tables = about.get("player"), about.get("tables")
    if not (isinstance(player, str) and player.strip() and isinstance(tables, dict)):
        return False
    return all(
        isinstance(part, dict)
        and isinstance(part.get("rows"), int)
        and isinstance(part.get("sha256"), str)
        for part in tables.values()
    )


def _check_members(archive: zipfile.ZipFile, path: Path) -> None:
    if any(member.flag_bits & 1 for member in archive.infolist()):
        raise _damaged(path, say("it is locked with a password"))
    if sum(member.file_size for member in archive.infolist()) > LARGEST_BYTES:
        raise DataFileError(
            say(
                "{path} would unpack to more than {gigabytes} GB.",
                path=path,
                gigabytes=LARGEST_BYTES // 2**30,
            ),
            say("Ask for an archive of fewer years, or of one player."),
        )


def _telling(progress: Progress, total_bytes: int) -> Callable[[int], None]:
    """Return what is told of bytes that were looked at, and tells which share of all they are."""
    looked_at = 0

    def through(count: int) -> None:
        nonlocal looked_at
        looked_at += count
        progress(min(looked_at / max(total_bytes, 1), 1.0))

    return through


def _check_sum(
    archive: zipfile.ZipFile,
    name: str,
    part: Mapping[str, object],
    path: Path,
    through: Callable[[int], None],
) -> None:
    try:
        with archive.open(f"{name}.csv") as file:
            found = _digest(file, through)
    except KeyError:
        raise _damaged(path, say("{name}.csv is missing", name=name)) from None
    if found != part["sha256"]:
        raise _damaged(path, say("{name}.csv is not as it was written", name=name))


def _digest(file: IO[bytes], through: Callable[[int], None]) -> str:
    summed = hashlib.sha256()
    while piece := file.read(_PIECE):
        summed.update(piece)
        through(len(piece))
    return summed.hexdigest()
