"""One SQLite file, opened when first needed, whose every complaint becomes a sentence."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from threading import RLock
from typing import Any

from intonation.errors import StoreError
from intonation.language import say
from intonation.store.schema import SCHEMA_VERSION, bring_up_to_date, version_of

BUSY_S = 5.0
"""How long to wait for another program that is writing."""

Parameter = str | int | float | bytes | None


class Database:
    """The file of the practice record.

    Parameters
    ----------
    path
        The file; it and its folder are created by the first use. None keeps everything in memory.

    Notes
    -----
    Any thread may use it, one at a time. A finished `writing` block is on the disk: the journal is
    a write-ahead log that is synchronised at every commit.
    """

    def __init__(self, path: Path | None) -> None:
        self.path = path
        self._lock = RLock()
        self._connection: sqlite3.Connection | None = None

    @property
    def file_name(self) -> str:
        """What the file is called in sentences."""
        return say("The record in memory") if self.path is None else str(self.path)

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Yield the connection; what is changed in the block is kept as a whole or not at all.

        Raises
        ------
        StoreError
            If the file cannot be opened, read or written.
        """
        with self._lock, self._sentences():
            connection = self._opened()
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                if connection.in_transaction:
                    connection.execute("ROLLBACK")
                raise

    def read(self, question: str, parameters: Sequence[Parameter] = ()) -> list[tuple[Any, ...]]:
        """Return every row that answers a question; none if there is no file yet.

        Raises
        ------
        StoreError
            If the file cannot be opened or read.
        """
        with self._lock, self._sentences():
            if self.path is not None and not self.path.exists():
                return []
            return self._opened().execute(question, parameters).fetchall()

    def read_named(
        self, question: str, parameters: Sequence[Parameter] = ()
    ) -> tuple[tuple[str, ...], list[tuple[Any, ...]]]:
        """Return the names of an answer's columns, and every row; see `read`."""
        with self._lock, self._sentences():
            if self.path is not None and not self.path.exists():
                return (), []
            found = self._opened().execute(question, parameters)
            return tuple(column[0] for column in found.description), found.fetchall()

    def close(self) -> None:
        """Close the file; the next use opens it again."""
        with self._lock:
            if self._connection is not None:
                self._connection.close()
            self._connection = None

    def _opened(self) -> sqlite3.Connection:
        if self._connection is None:
            self._connection = _connect(self.path, self.file_name)
        return self._connection

    @contextmanager
    def _sentences(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as cause:
            raise _store_error(cause, self.file_name) from cause
        except OSError as cause:
            raise _folder_error(cause, self.file_name) from cause


def _connect(path: Path | None, file_name: str) -> sqlite3.Connection:
    if path is None:
        return _prepared(_connected(":memory:"), file_name)
    if path.exists():
        _check_header(path)
    else:
        path.parent.mkdir(parents=True, exist_ok=True)
    try:
        return _prepared(_connected(path.absolute().as_uri()), file_name)
    except sqlite3.OperationalError as cause:
        if not path.exists() or not _only_readable(cause):
            raise
    return _connected_for_reading(path, file_name)


def _connected(uri: str) -> sqlite3.Connection:
    return sqlite3.connect(
        uri, uri=uri != ":memory:", timeout=BUSY_S, isolation_level=None, check_same_thread=False
    )


def _prepared(connection: sqlite3.Connection, file_name: str) -> sqlite3.Connection:
    try:
        version_of(connection, file_name=file_name)
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        bring_up_to_date(connection, file_name=file_name)
    except BaseException:
        connection.close()
        raise
    return connection


def _connected_for_reading(path: Path, file_name: str) -> sqlite3.Connection:
    # Without a log beside it the file is complete, and nobody who may not write can change it.
    log_is_there = path.with_name(f"{path.name}-wal").exists()
    mode = "mode=ro" if log_is_there else "immutable=1"
    connection = _connected(f"{path.absolute().as_uri()}?{mode}")
    try:
        _check_up_to_date(connection, file_name)
    except BaseException:
        connection.close()
        raise
    return connection


def _check_up_to_date(connection: sqlite3.Connection, file_name: str) -> None:
    if version_of(connection, file_name=file_name) != SCHEMA_VERSION:
        raise StoreError(
            say(
                "{file_name} may only be read, but must be brought up to date first.",
                file_name=file_name,
            ),
            say("Check who owns the file and its folder."),
        )


def _check_header(path: Path) -> None:
    with path.open("rb") as file:
        header = file.read(16)
    if header and header != b"SQLite format 3\0":
        raise StoreError(
            say(
                "{path} is damaged or no practice record at all, so it was left as it is.",
                path=path,
            ),
            say(
                "Move it to another place, and a new practice record is begun here; a damaged one "
                "can often be mended with `sqlite3 FILE .recover`."
            ),
        )


def _only_readable(cause: sqlite3.Error) -> bool:
    return _kind(cause) in ("SQLITE_READONLY", "SQLITE_CANTOPEN")


def _kind(cause: sqlite3.Error) -> str:
    """Return the name of an SQLite error without its finer distinctions."""
    return "_".join(getattr(cause, "sqlite_errorname", "SQLITE_ERROR").split("_")[:2])


def _store_error(cause: sqlite3.Error, file_name: str) -> StoreError:
    match _kind(cause):
        case "SQLITE_BUSY" | "SQLITE_LOCKED":
            return StoreError(
                say("{file_name} is being written by another program.", file_name=file_name),
                say("Close the other program, then go on."),
            )
        case "SQLITE_FULL":
            return StoreError(
                say("The disk is full: {file_name} takes no more notes.", file_name=file_name),
                say("Free some space; everything kept so far is safe."),
            )
        case "SQLITE_READONLY" | "SQLITE_CANTOPEN" | "SQLITE_PERM" | "SQLITE_AUTH":
            return StoreError(
                say("{file_name} may not be written.", file_name=file_name),
                say("Check who owns the file and its folder."),
            )
        case "SQLITE_NOTADB" | "SQLITE_CORRUPT":
            return StoreError(
                say("{file_name} is damaged, so it was left as it is.", file_name=file_name),
                say(
                    "Move it to another place, and a new practice record is begun here; much of it "
                    "can often be saved with `sqlite3 FILE .recover`."
                ),
            )
    return StoreError(
        say("{file_name} cannot be used ({cause}).", file_name=file_name, cause=cause),
        say("Check the disk and the folder; everything kept so far is left as it is."),
    )


def _folder_error(cause: OSError, file_name: str) -> StoreError:
    reason = cause.strerror or str(cause)
    return StoreError(
        say("{file_name} cannot be reached ({reason}).", file_name=file_name, reason=reason),
        say("Check who owns the folder, or choose another."),
    )
