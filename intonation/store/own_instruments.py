"""The instruments of the practice record by their own names: what each is, and what it was called.

A name stands for one instrument of the record, whoever plays it, so that players can be compared
on it. Only the notes of the player who gives it another name go with that name.
"""

from collections.abc import Iterable
from sqlite3 import Connection
from typing import Any

from intonation.errors import SettingsError
from intonation.instruments.library import INSTRUMENT_NAMES
from intonation.instruments.other_systems import SYSTEMS
from intonation.instruments.own_instrument import OwnInstrument, size_that_is_named, spaced
from intonation.language import say
from intonation.practice.settings import SIMULATED_PLAYER
from intonation.store.database import Database
from intonation.store.names import name_id

_COLUMNS = "i.name, i.size, i.fingering_system, i.a4_hz, i.remark"
_PLAYED_IN = ("sessions", "checks", "trials")
_PLAYED = " OR ".join(f"i.id IN (SELECT instrument_id FROM {table})" for table in _PLAYED_IN)
_PLAYED_BY, _PLAYED_BY_OTHERS = (
    " OR ".join(
        f"EXISTS (SELECT 1 FROM {table} AS t JOIN players AS p ON p.id = t.player_id"
        f" WHERE t.instrument_id = i.id AND {whose})"
        for table in _PLAYED_IN
    )
    for whose in ("p.name = ?1", "p.name NOT IN (?1, ?2)")
)


class OwnInstruments:
    """What is kept of every instrument.

    Parameters
    ----------
    database
        The record's file.

    Notes
    -----
    Every method raises a `StoreError` if the file cannot be read or written.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def all(self) -> tuple[OwnInstrument, ...]:
        """Return every instrument, the highest sizes first, those of unknown size last."""
        return _in_order(self._database.read(f"SELECT {_COLUMNS} FROM instruments AS i"))

    def of(self, player: str) -> tuple[OwnInstrument, ...]:
        """Return what a player plays: whatever they have played, and what nobody else has yet.

        A simulated player is nobody.
        """
        return _in_order(
            self._database.read(
                f"SELECT {_COLUMNS} FROM instruments AS i"
                f" WHERE ({_PLAYED_BY}) OR NOT ({_PLAYED_BY_OTHERS})",
                (player, SIMULATED_PLAYER),
            )
        )

    def named(self, name: str) -> OwnInstrument | None:
        """Return an instrument by its name, however its capitals and spaces are; None if none."""
        wanted = spaced(name)
        known = self.all()
        exact = (one for one in known if one.name == name)
        alike = (one for one in known if spaced(one.name).casefold() == wanted.casefold())
        return next(exact, None) or next(alike, None)

    def size_of(self, name: str) -> str | None:
        """Return the size of an instrument; None if it is not known."""
        known = self.named(name)
        return size_that_is_named(name) if known is None else known.size

    def was_played(self, name: str) -> bool:
        """Return whether anything is kept of an instrument."""
        found = self._database.read(
            f"SELECT 1 FROM instruments AS i WHERE i.name = ? AND ({_PLAYED})", (name,)
        )
        return bool(found)

    def keep(self, instrument: OwnInstrument) -> None:
        """Keep an instrument as it is described; one of this name is described anew."""
        with self._database.writing() as connection:
            number = name_id(connection, "instruments", instrument.name)
            connection.execute(
                "UPDATE instruments SET size = ?, fingering_system = ?, a4_hz = ?, remark = ?"
                " WHERE id = ?",
                (
                    instrument.size,
                    instrument.fingering_system,
                    instrument.a4_hz,
                    instrument.remark or None,
                    number,
                ),
            )

    def rename(self, player: str, instrument: OwnInstrument, name: str) -> OwnInstrument:
        """Give a player's instrument another name; all their notes on it go with it.

        Those of a simulated player go with it too.

        Returns
        -------
        OwnInstrument
            The instrument under its new name.

        Raises
        ------
        SettingsError
            If another instrument has that name.
        """
        if name == instrument.name:
            return instrument
        with self._database.writing() as connection:
            if connection.execute("SELECT 1 FROM instruments WHERE name = ?", (name,)).fetchone():
                raise SettingsError(
                    say('There is an instrument "{name}" already.', name=name),
                    say("Choose another name."),
                )
            before = name_id(connection, "instruments", instrument.name)
            after = _copied(connection, instrument, name)
            for whose in (player, SIMULATED_PLAYER):
                _move(connection, whose, before, after)
            forget_unplayed(connection, before)
        return _instrument((name, *_described(instrument)))

    def forget(self, name: str) -> None:
        """Forget an instrument that nobody has played.

        Raises
        ------
        SettingsError
            If notes are kept of it.
        """
        if self.was_played(name):
            raise SettingsError(
                say('Notes are kept of "{name}", so it is not forgotten.', name=name),
                say("Give it another name if it has the wrong one."),
            )
        with self._database.writing() as connection:
            connection.execute("DELETE FROM instruments WHERE name = ?", (name,))


def former_names(connection: Connection, player: str) -> dict[str, set[str]]:
    """Return for each instrument of a player what it was called before."""
    found: dict[str, set[str]] = {}
    for name, former in connection.execute(
        "SELECT i.name, f.name FROM former_names AS f JOIN instruments AS i"
        " ON i.id = f.instrument_id WHERE f.player_id = (SELECT id FROM players WHERE name = ?)",
        (player,),
    ):
        found.setdefault(name, set()).add(former)
    return found


def _copied(connection: Connection, instrument: OwnInstrument, name: str) -> int:
    inserted = connection.execute(
        "INSERT INTO instruments (name, size, fingering_system, a4_hz, remark)"
        " VALUES (?, ?, ?, ?, ?)",
        (name, *_described(instrument)),
    )
    return inserted.lastrowid or 0


def _described(instrument: OwnInstrument) -> tuple[Any, ...]:
    return (
        instrument.size,
        instrument.fingering_system,
        instrument.a4_hz,
        instrument.remark or None,
    )


def _move(connection: Connection, player: str, before: int, after: int) -> None:
    """Let everything that a player did on one instrument be of another, and keep what it was."""
    found = connection.execute("SELECT id FROM players WHERE name = ?", (player,)).fetchone()
    if found is None:
        return
    (whose,), was_played = found, False
    for table in _PLAYED_IN:
        moved = connection.execute(
            f"UPDATE {table} SET instrument_id = ? WHERE player_id = ? AND instrument_id = ?",
            (after, whose, before),
        )
        was_played = was_played or moved.rowcount > 0
    connection.execute(
        "UPDATE former_names SET instrument_id = ? WHERE player_id = ? AND instrument_id = ?",
        (after, whose, before),
    )
    if was_played:
        connection.execute(
            "INSERT INTO former_names SELECT ?, ?, name FROM instruments WHERE id = ?"
            " ON CONFLICT DO NOTHING",
            (whose, after, before),
        )


def forget_unplayed(connection: Connection, number: int) -> None:
    """Forget an instrument if nothing is kept of it."""
    connection.execute(
        f"DELETE FROM instruments AS i WHERE i.id = ? AND NOT ({_PLAYED})", (number,)
    )


def _in_order(found: Iterable[tuple[Any, ...]]) -> tuple[OwnInstrument, ...]:
    return tuple(sorted(map(_instrument, found), key=_place))


def _place(instrument: OwnInstrument) -> tuple[int, str]:
    sizes = INSTRUMENT_NAMES
    at = sizes.index(instrument.size) if instrument.size in sizes else len(sizes)
    return at, instrument.name.casefold()


def _instrument(values: tuple[Any, ...]) -> OwnInstrument:
    name, size, fingering_system, a4_hz, remark = values
    return OwnInstrument(
        name=name,
        size=size or size_that_is_named(name),
        fingering_system=fingering_system or SYSTEMS[0],
        a4_hz=a4_hz,
        remark=remark or "",
    )
