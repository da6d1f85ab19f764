"""How long an archive of many years takes, and how much memory: 700,000 held notes, all traced.

``python -m tests.benchmarks.archive_speed`` writes a record into a temporary folder, exports it,
imports it twice, and prints what each step took. A number behind it asks for so many notes.
"""

import random
import resource
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from intonation.engine.archiving import export_player, import_file
from intonation.engine.reporting import Reporting
from intonation.report.pages.lesson_page import lesson_page
from intonation.report.pages.player_page import player_page
from intonation.report.pages.session_page import session_page
from intonation.store.columns import INSERT, utc_text, written
from intonation.store.details import HeldNoteDetails
from intonation.store.store import Store
from intonation.store.traces import INSERT_TRACE, packed
from tests.store.test_store import a_note
from tests.support.traces import a_trace

OF_A_SITTING = 60
FIRST = datetime(2001, 1, 1, 18, 0, tzinfo=UTC)


def fill(store: Store, held_notes: int) -> None:
    """Keep one take of sixty notes on every day of thirty years."""
    chance = random.Random(1)
    points = packed(a_trace())
    sittings = -(-held_notes // OF_A_SITTING)
    store.begin_session("sitting 0", player="wren", instrument="alto", began_at=FIRST)
    with store.database.writing() as connection:
        for number in range(sittings):
            began = utc_text(FIRST + timedelta(days=number))
            if number:
                connection.execute(
                    "INSERT INTO sessions (player_id, instrument_id, name, began_at)"
                    " VALUES (1, 1, ?, ?)",
                    (f"sitting {number}", began),
                )
            connection.execute(
                "INSERT INTO takes (session_id, began_at, ended_at, a4_hz, temperament)"
                " VALUES (?, ?, ?, 440.0, 'pure')",
                (number + 1, began, utc_text(FIRST + timedelta(days=number, minutes=20))),
            )
        for number in range(held_notes):
            sitting = number // OF_A_SITTING
            row = a_note(midi=65 + number % 27, cents=round(chance.gauss(0.0, 8.0), 3))
            values = written(
                row,
                HeldNoteDetails(number=1 + number % OF_A_SITTING, duration_s=2.4),
                session_id=sitting + 1,
                take_id=sitting + 1,
                held_at=FIRST + timedelta(days=sitting, seconds=20 * (number % OF_A_SITTING)),
            )
            event = connection.execute(INSERT, values).lastrowid
            connection.execute(INSERT_TRACE, (event, *points))


def timed(what: str, do: Callable[[], object]) -> None:
    """Do something, and print how long it took and how much memory was used so far."""
    began = time.process_time()
    do()
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"{what:<42} {time.process_time() - began:7.2f} s of processor   {most_mb:6.0f} MB")


def main() -> None:
    """Measure every step."""
    held_notes = int(sys.argv[1]) if len(sys.argv) > 1 else 700_000
    with TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "wren.zip"
        with Store(folder / "practice.sqlite") as store:
            timed("writing the record", lambda: fill(store, held_notes))
            print(f"record: {store.path.stat().st_size / 2**20:.0f} MB" if store.path else "")
            reporting = Reporting(store, lambda: FIRST + timedelta(days=20_000))
            timed("takes to look back at", lambda: store.traces.takes(player="wren"))
            timed("session report", lambda: session_page(reporting.session("wren", "alto")))
            timed("lesson report", lambda: lesson_page(reporting.lesson("wren", "alto")))
            timed("player report", lambda: player_page(reporting.player("wren")))
            timed("export", lambda: export_player(store, "wren", path, written_at=FIRST))
        print(f"archive: {path.stat().st_size / 2**20:.0f} MB")
        with Store(folder / "teacher.sqlite") as teacher:
            timed("import", lambda: import_file(teacher, path))
            timed("import again", lambda: import_file(teacher, path))


if __name__ == "__main__":
    main()
