"""Names of players and instruments, each kept once in a table of its own."""

import sqlite3


def name_id(connection: sqlite3.Connection, table: str, name: str) -> int:
    """Return the number of a name in a table of names; a new name is kept first."""
    connection.execute(f"INSERT INTO {table} (name) VALUES (?) ON CONFLICT DO NOTHING", (name,))
    (number,) = connection.execute(f"SELECT id FROM {table} WHERE name = ?", (name,)).fetchone()
    return int(number)
