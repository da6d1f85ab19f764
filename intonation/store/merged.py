"""What became of an import, and what the parts of one have in common."""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from sqlite3 import Connection
from typing import Any

from intonation.store.names import name_id

Record = Mapping[str, Any]


@dataclass(slots=True)
class Merged:
    """What became of the rows of each table.

    Parameters
    ----------
    added, known
        How many were taken in, and how many were there already.
    """

    added: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    known: dict[str, int] = field(default_factory=lambda: defaultdict(int))

    def count(self, table: str, *, new: bool) -> None:
        """Count a row."""
        (self.added if new else self.known)[table] += 1


def content_of(values: Iterable[Any]) -> bytes:
    """Return a digest of what a row says; numbers that are equal count as the same."""
    said = repr([float(v) if isinstance(v, int | float) else v for v in values])
    return hashlib.blake2b(said.encode("utf-8", "replace"), digest_size=16).digest()


def insert(to: Connection, table: str, columns: Sequence[str], values: Sequence[Any]) -> int:
    """Add a row to a table and return its number."""
    marks = ", ".join("?" * len(columns))
    inserted = to.execute(
        f"INSERT INTO {table} ({', '.join(quoted(columns))}) VALUES ({marks})", values
    )
    return inserted.lastrowid or 0


def pair_of(to: Connection, player: str, instrument: str) -> tuple[int, int]:
    """Return the numbers of a player and an instrument; new names are kept first."""
    return name_id(to, "players", player), name_id(to, "instruments", instrument)


def quoted(names: Iterable[str]) -> list[str]:
    """Return names of columns as a question wants them."""
    return [f'"{name}"' for name in names]
