"""Writes a player's archive: a ZIP of CSV tables with a checksum for each of them."""

import hashlib
import json
import os
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from pathlib import Path

from intonation.errors import SettingsError
from intonation.heldnotes.csv_table import Record, cell_text, csv_line
from intonation.interchange.archive_tables import ABOUT, FORMAT, TABLES, VERSION
from intonation.language import say


def write_archive(
    path: Path,
    tables: Mapping[str, Iterable[Record]],
    *,
    player: str,
    written_at: datetime,
) -> dict[str, int]:
    """Write an archive and return how many rows each table has.

    The file is complete or not there at all: it is written beside its place first.

    Raises
    ------
    SettingsError
        If it cannot be written.
    """
    unfinished = path.with_name(f"{path.name}.{os.getpid()}.new")
    try:
        with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
            parts = {name: _write_table(archive, name, rows) for name, rows in tables.items()}
            about = {
                "format": FORMAT,
                "version": VERSION,
                "player": player,
                "written_at": written_at.isoformat(),
                "tables": parts,
            }
            archive.writestr(ABOUT, json.dumps(about, ensure_ascii=False, indent=1) + "\n")
        unfinished.replace(path)
    except OSError as fault:
        raise SettingsError(
            say("{path} cannot be written ({strerror}).", path=path, strerror=fault.strerror),
            say("Choose another file or folder."),
        ) from None
    finally:
        unfinished.unlink(missing_ok=True)
    return {name: int(part["rows"]) for name, part in parts.items()}


def _write_table(
    archive: zipfile.ZipFile, name: str, rows: Iterable[Record]
) -> dict[str, int | str]:
    columns, summed, count = TABLES[name].columns, hashlib.sha256(), 0
    with archive.open(f"{name}.csv", "w", force_zip64=True) as file:
        for line in _lines(tuple(columns), rows):
            content = line.encode("utf-8", "replace")
            summed.update(content)
            file.write(content)
            count += 1
    return {"rows": count - 1, "sha256": summed.hexdigest()}


def _lines(columns: tuple[str, ...], rows: Iterable[Record]) -> Iterator[str]:
    yield csv_line(columns)
    for row in rows:
        yield csv_line([cell_text(row.get(name)) for name in columns])
