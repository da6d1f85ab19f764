"""The keys of every page in one table: for a player's own key file, its check and its printing."""

from intonation.app.check_keys import CHECK, CHECKING, COMPARISON, VERDICT
from intonation.app.contents_keys import CONTENTS
from intonation.app.ear_keys import DRILL, EAR, RESULT, TUNING
from intonation.app.exercise_keys import EXERCISES, IMPORT, MELODY, TEMPERAMENTS
from intonation.app.first_run_keys import SET_UP
from intonation.app.habit_keys import HABIT_NOTE, HABITS
from intonation.app.instrument_keys import INSTRUMENTS
from intonation.app.keys import EVERYWHERE, HELP, Key
from intonation.app.players_keys import COMPARED, PLAYERS
from intonation.app.practice_keys import PRACTICE
from intonation.app.print_keys import PRINT
from intonation.app.sound_keys import SOUND
from intonation.app.take_keys import SUMMARY, TAKE
from intonation.app.today_keys import TODAY
from intonation.app.trace_keys import TRACES
from intonation.app.workshop_keys import CONSORT, FINGERINGS, PREDICTION, TRIALS, WORKSHOP

EVERYWHERE_TABLE = "everywhere"
"""The table of the key file for the keys that every page has."""

PAGE_KEYS: tuple[tuple[Key, ...], ...] = (
    PRACTICE,
    TAKE,
    SUMMARY,
    SOUND,
    HELP,
    EXERCISES,
    IMPORT,
    MELODY,
    TEMPERAMENTS,
    FINGERINGS,
    WORKSHOP,
    PREDICTION,
    TRIALS,
    CONSORT,
    PRINT,
    EAR,
    DRILL,
    TUNING,
    RESULT,
    HABITS,
    HABIT_NOTE,
    CONTENTS,
    TODAY,
    TRACES,
    PLAYERS,
    COMPARED,
    INSTRUMENTS,
    CHECK,
    CHECKING,
    COMPARISON,
    VERDICT,
    SET_UP,
)
"""The keys of each page; every page has those of `EVERYWHERE` besides."""


def place_of(key: Key) -> tuple[str, str]:
    """Return the table of the key file that a key stands in, and its name there."""
    table, dot, name = key.name.partition(".")
    return (table, name) if dot else (EVERYWHERE_TABLE, key.name)


def keys_by_table() -> dict[str, dict[str, Key]]:
    """Return every key by the table of the key file and the name in it."""
    tables: dict[str, dict[str, Key]] = {}
    for key in (*EVERYWHERE, *(key for page in PAGE_KEYS for key in page)):
        table, name = place_of(key)
        tables.setdefault(table, {}).setdefault(name, key)
    return tables
