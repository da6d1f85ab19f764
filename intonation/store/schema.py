"""The tables of the practice record, and how an older file becomes a newer one."""

import sqlite3

from intonation.errors import StoreError
from intonation.language import say

APPLICATION_ID = 0x496E746E
"""Stands in the header of every record, so that no other SQLite file is taken for one."""

_FIRST = (
    """CREATE TABLE players (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL UNIQUE
    )""",
    """CREATE TABLE instruments (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL UNIQUE
    )""",
    """CREATE TABLE sessions (
        id INTEGER PRIMARY KEY,
        player_id INTEGER NOT NULL REFERENCES players,
        instrument_id INTEGER NOT NULL REFERENCES instruments,
        name TEXT NOT NULL,
        began_at TEXT,
        UNIQUE (player_id, instrument_id, name)
    )""",
    "CREATE INDEX sessions_by_instrument ON sessions (instrument_id)",
    "CREATE INDEX sessions_by_name ON sessions (name)",
    """CREATE TABLE takes (
        id INTEGER PRIMARY KEY,
        session_id INTEGER NOT NULL REFERENCES sessions,
        began_at TEXT NOT NULL,
        ended_at TEXT,
        a4_hz REAL NOT NULL,
        temperament TEXT NOT NULL,
        drone_midi INTEGER,
        drone_fifth INTEGER NOT NULL DEFAULT 0,
        drone_octave INTEGER NOT NULL DEFAULT 0,
        voice TEXT
    )""",
    "CREATE INDEX takes_by_session ON takes (session_id)",
    """CREATE TABLE held_notes (
        event INTEGER PRIMARY KEY AUTOINCREMENT,
        session_id INTEGER NOT NULL REFERENCES sessions,
        take_id INTEGER REFERENCES takes,
        held_at TEXT,
        midi INTEGER NOT NULL,
        fingering TEXT NOT NULL,
        kind TEXT NOT NULL,
        microphone TEXT,
        "order" INTEGER,
        minutes REAL,
        temperature_c REAL,
        cents REAL NOT NULL,
        level_db REAL,
        sd_cents REAL,
        drift_cents_per_s REAL,
        reference INTEGER NOT NULL,
        blind INTEGER NOT NULL,
        previous_midi INTEGER,
        swell TEXT,
        swell_step INTEGER,
        number INTEGER,
        duration_s REAL,
        f0_hz REAL,
        target_hz REAL,
        standard_error_cents REAL,
        cents_per_db REAL,
        vibrato_hz REAL,
        vibrato_cents REAL,
        remedy TEXT,
        reason TEXT,
        predicted_cents REAL
    )""",
    # covers the means of every note, so that they never touch the wide table
    "CREATE INDEX held_notes_by_session ON held_notes (session_id, midi, cents)",
    "CREATE INDEX held_notes_by_time ON held_notes (held_at)",
)

_LISTENING = (
    """CREATE TABLE listening_answers (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        player TEXT NOT NULL,
        answered_at TEXT NOT NULL,
        drill TEXT NOT NULL,
        interval TEXT,
        register TEXT NOT NULL,
        step_cents REAL NOT NULL,
        deviation_cents REAL NOT NULL,
        choices INTEGER NOT NULL,
        choice TEXT NOT NULL,
        right_choice TEXT NOT NULL
    )""",
    "CREATE INDEX listening_answers_by_drill ON listening_answers (player, drill)",
    """CREATE TABLE tuned_notes (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        player TEXT NOT NULL,
        tuned_at TEXT NOT NULL,
        drill TEXT NOT NULL,
        interval TEXT,
        register TEXT NOT NULL,
        start_cents REAL NOT NULL,
        final_cents REAL NOT NULL
    )""",
    "CREATE INDEX tuned_notes_by_player ON tuned_notes (player)",
)

_TRIALS = (
    """CREATE TABLE trials (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        player_id INTEGER NOT NULL REFERENCES players,
        instrument_id INTEGER NOT NULL REFERENCES instruments,
        made_at TEXT NOT NULL,
        note TEXT NOT NULL DEFAULT '',
        undone_at TEXT,
        undo_note TEXT NOT NULL DEFAULT ''
    )""",
    """CREATE TABLE trial_works (
        trial_id INTEGER NOT NULL REFERENCES trials,
        place INTEGER NOT NULL,
        work TEXT NOT NULL,
        amount_mm REAL NOT NULL,
        hole TEXT,
        from_mm REAL NOT NULL,
        to_mm REAL NOT NULL,
        PRIMARY KEY (trial_id, place)
    )""",
    """CREATE TABLE trial_predictions (
        trial_id INTEGER NOT NULL REFERENCES trials,
        midi INTEGER NOT NULL,
        cents REAL NOT NULL,
        PRIMARY KEY (trial_id, midi)
    )""",
)

_TRACES = (
    """CREATE TABLE traces (
        event INTEGER PRIMARY KEY REFERENCES held_notes,
        step_s REAL NOT NULL,
        points BLOB NOT NULL
    )""",
    "CREATE INDEX held_notes_by_take ON held_notes (take_id)",
)

_CHECKS = (
    """CREATE TABLE checks (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        player_id INTEGER NOT NULL REFERENCES players,
        instrument_id INTEGER NOT NULL REFERENCES instruments,
        size TEXT NOT NULL,
        form TEXT NOT NULL,
        a4_hz REAL NOT NULL,
        began_at TEXT NOT NULL,
        ended_at TEXT
    )""",
    "CREATE INDEX checks_by_pair ON checks (player_id, instrument_id)",
    """CREATE TABLE check_steps (
        check_id INTEGER NOT NULL REFERENCES checks,
        place INTEGER NOT NULL,
        pass_number INTEGER NOT NULL,
        pass TEXT NOT NULL,
        midi INTEGER NOT NULL,
        outcome TEXT,
        PRIMARY KEY (check_id, place)
    )""",
    """CREATE TABLE check_notes (
        event INTEGER PRIMARY KEY REFERENCES held_notes,
        check_id INTEGER NOT NULL REFERENCES checks,
        place INTEGER NOT NULL
    )""",
)

_OWN_INSTRUMENTS = (
    "ALTER TABLE instruments ADD COLUMN size TEXT",
    "ALTER TABLE instruments ADD COLUMN fingering_system TEXT",
    "ALTER TABLE instruments ADD COLUMN a4_hz REAL",
    "ALTER TABLE instruments ADD COLUMN remark TEXT",
    # the sizes as they were called when these columns came; later ones need no migration
    """UPDATE instruments SET size = CASE
        WHEN name IN ('garklein', 'sopranino', 'soprano', 'alto', 'tenor', 'bass', 'great bass',
            'contrabass') THEN name
        ELSE (SELECT c.size FROM checks AS c WHERE c.instrument_id = instruments.id
            ORDER BY c.id DESC LIMIT 1)
        END""",
    """CREATE TABLE former_names (
        player_id INTEGER NOT NULL REFERENCES players,
        instrument_id INTEGER NOT NULL REFERENCES instruments,
        name TEXT NOT NULL,
        PRIMARY KEY (player_id, instrument_id, name)
    )""",
)

MIGRATIONS: tuple[tuple[str, ...], ...] = (
    _FIRST,
    _LISTENING,
    _TRIALS,
    _TRACES,
    _CHECKS,
    _OWN_INSTRUMENTS,
)
"""Statements that lead from each version to the next. Append only: files out there are older."""

SCHEMA_VERSION = len(MIGRATIONS)


def version_of(connection: sqlite3.Connection, *, file_name: str) -> int:
    """Return the schema version of an open file; 0 if it is new and empty.

    Raises
    ------
    StoreError
        If it is another program's file, or one of a newer version of ours.
    """
    version = _number(connection, "PRAGMA user_version")
    ours = _number(connection, "PRAGMA application_id") == APPLICATION_ID
    empty = _number(connection, "SELECT count(*) FROM sqlite_schema") == 0
    if not ours and not (empty and version == 0):
        raise StoreError(
            say(
                "{file_name} is a database of another program, so it was left as it is.",
                file_name=file_name,
            ),
            say("Move it to another place, and a new practice record is begun here."),
        )
    if version > SCHEMA_VERSION:
        raise StoreError(
            say(
                "{file_name} was written by a newer version of intonation (format "
                "{version}; this one knows {schema_version}), so it was left as it is.",
                file_name=file_name,
                version=version,
                schema_version=SCHEMA_VERSION,
            ),
            say("Update intonation to go on with it."),
        )
    return version


def bring_up_to_date(connection: sqlite3.Connection, *, file_name: str) -> None:
    """Create the tables, or take an older file to the present version: wholly, or not at all."""
    if version_of(connection, file_name=file_name) == SCHEMA_VERSION:
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        # looked at again: another program may have done it while this one waited
        version = version_of(connection, file_name=file_name)
        for migration in MIGRATIONS[version:]:
            for statement in migration:
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {SCHEMA_VERSION}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _number(connection: sqlite3.Connection, question: str) -> int:
    (number,) = connection.execute(question).fetchone()
    return int(number)
