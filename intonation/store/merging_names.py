"""What an imported instrument is called here: sizes that clash, and names that have changed."""

from collections import defaultdict
from sqlite3 import Connection

from intonation.store.merged import Record
from intonation.store.names import name_id
from intonation.store.own_instruments import forget_unplayed, former_names

_KEYS = {"sessions": "name", "checks": "began_at", "trials": "made_at"}
_DESCRIBED = ("size", "fingering_system", "a4_hz", "remark")


class MergingNames:
    """The names of the instruments of one import.

    Parameters
    ----------
    connection
        The record, in the middle of a transaction.
    """

    def __init__(self, connection: Connection) -> None:
        self._to = connection
        self._here: dict[str, str] = {}
        self._formerly: dict[tuple[str, str], set[str]] = defaultdict(set)
        self._later: dict[str, dict[str, set[str]]] = {}
        self._left: set[str] = set()

    def instrument(self, record: Record) -> None:
        """Take in what an instrument is; what is known of it here already stays."""
        here = self._free(record["instrument"], record.get("size"))
        if self._size(here) is None:
            self._left.add(here)
        self._here[record["instrument"]] = here
        setting = ", ".join(f"{name} = coalesce({name}, ?)" for name in _DESCRIBED)
        number = name_id(self._to, "instruments", here)
        described = [record.get(name) for name in _DESCRIBED]
        self._to.execute(f"UPDATE instruments SET {setting} WHERE id = ?", (*described, number))

    def former_name(self, player: str, record: Record) -> None:
        """Take in what an instrument was called before."""
        name = self.here(record["instrument"])
        self._formerly[player, name].add(record["name"])
        self._to.execute(
            "INSERT INTO former_names VALUES (?, ?, ?) ON CONFLICT DO NOTHING",
            (
                name_id(self._to, "players", player),
                name_id(self._to, "instruments", name),
                record["name"],
            ),
        )

    def here(self, instrument: str) -> str:
        """Return what an instrument of the import is called here."""
        return self._here.get(instrument, instrument)

    def settle(self, table: str, player: str, instrument: str, key: str) -> str:
        """Return the name under which a row is kept here, or is to be kept.

        A row that is kept under a name which the import knows as a former one gets the later name.

        Parameters
        ----------
        table, key
            ``sessions`` with its name, ``checks`` or ``trials`` with the moment of its beginning.
        player, instrument
            Whose, and on what by the import.
        """
        name = self.here(instrument)
        if self._rows(table, player, name, key):
            return name
        for later in self._later_names(player, name):
            if self._rows(table, player, later, key):
                return later
        for former in sorted(self._formerly[player, name]):
            for row in self._rows(table, player, former, key):
                number = name_id(self._to, "instruments", name)
                question = f"UPDATE {table} SET instrument_id = ? WHERE id = ?"
                self._to.execute(question, (number, row))
                self._left.add(former)
        return name

    def finish(self) -> None:
        """Forget names that nothing is kept under any more."""
        for name in self._left:
            forget_unplayed(self._to, name_id(self._to, "instruments", name))

    def _free(self, name: str, size: str | None) -> str:
        """Return a name that no instrument of another size has here."""
        return name if size is None or self._size(name) in (None, size) else f"{name} ({size})"

    def _size(self, name: str) -> str | None:
        found = self._to.execute("SELECT size FROM instruments WHERE name = ?", (name,)).fetchone()
        return found[0] if found else None

    def _rows(self, table: str, player: str, instrument: str, key: str) -> list[int]:
        found = self._to.execute(
            f"SELECT id FROM {table} WHERE {_KEYS[table]} = ?"
            " AND player_id = (SELECT id FROM players WHERE name = ?)"
            " AND instrument_id = (SELECT id FROM instruments WHERE name = ?)",
            (key, player, instrument),
        )
        return [int(number) for (number,) in found]

    def _later_names(self, player: str, name: str) -> list[str]:
        if player not in self._later:
            self._later[player] = former_names(self._to, player)
        return sorted(now for now, former in self._later[player].items() if name in former)
