"""Names of players, instruments and sittings, each kept once in a table of its own."""

import sqlite3


def name_id(connection: sqlite3.Connection, table: str, name: str) -> int:
    """Return the number of a name in a table of names; a new name is kept first."""
    connection.execute(f"INSERT INTO {table} (name) VALUES (?) ON CONFLICT DO NOTHING", (name,))
    (number,) = connection.execute(f"SELECT id FROM {table} WHERE name = ?", (name,)).fetchone()
    return int(number)


def know_instrument(
    connection: sqlite3.Connection,
    name: str,
    *,
    size: str | None,
    fingering_system: str | None = None,
) -> int:
    """Return the number of an instrument that is played; what is not known of it yet is kept."""
    number = name_id(connection, "instruments", name)
    connection.execute(
        "UPDATE instruments SET size = coalesce(size, ?),"
        " fingering_system = coalesce(fingering_system, ?) WHERE id = ?",
        (size, fingering_system, number),
    )
    return number


def session_id(connection: sqlite3.Connection, player: str, instrument: str, session: str) -> int:
    """Return the number of a sitting; a new one is kept first."""
    names = (
        name_id(connection, "players", player),
        name_id(connection, "instruments", instrument),
    )
    sought = (*names, session)
    found = connection.execute(
        "SELECT id FROM sessions WHERE player_id = ? AND instrument_id = ? AND name = ?", sought
    ).fetchone()
    if found:
        return int(found[0])
    inserted = connection.execute(
        "INSERT INTO sessions (player_id, instrument_id, name) VALUES (?, ?, ?)", sought
    )
    return inserted.lastrowid or 0
