"""Records with something in every table, and what of them an archive must bring along."""

import hashlib
import json
import zipfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from intonation.acoustics.alterations import Alteration
from intonation.store.store import Store
from tests.support.filled_record import fill

WRITTEN_AT = datetime(2031, 4, 1, 12, 0, tzinfo=UTC)

_CONTENT = {
    "held_notes": """SELECT i.name, s.name, n.held_at, n.midi, n.kind, n."order", n.cents,
        n.level_db, n.target_hz, n.remedy, t.began_at, r.points
        FROM held_notes n JOIN sessions s ON s.id = n.session_id
        JOIN players p ON p.id = s.player_id JOIN instruments i ON i.id = s.instrument_id
        LEFT JOIN takes t ON t.id = n.take_id LEFT JOIN traces r ON r.event = n.event
        WHERE p.name = ? ORDER BY 1, 2, 3, 6, 4, 7""",
    "takes": """SELECT i.name, s.name, t.began_at, t.ended_at, t.a4_hz, t.temperament, t.voice
        FROM takes t JOIN sessions s ON s.id = t.session_id
        JOIN players p ON p.id = s.player_id JOIN instruments i ON i.id = s.instrument_id
        WHERE p.name = ? ORDER BY 1, 2, 3""",
    "sessions": """SELECT i.name, s.name, s.began_at FROM sessions s
        JOIN players p ON p.id = s.player_id JOIN instruments i ON i.id = s.instrument_id
        WHERE p.name = ? ORDER BY 1, 2""",
    "trials": """SELECT i.name, t.made_at, t.note, t.undone_at, w.work, w.amount_mm, r.midi, r.cents
        FROM trials t JOIN players p ON p.id = t.player_id
        JOIN instruments i ON i.id = t.instrument_id
        LEFT JOIN trial_works w ON w.trial_id = t.id
        LEFT JOIN trial_predictions r ON r.trial_id = t.id
        WHERE p.name = ? ORDER BY 2, 5, 7""",
    "checks": """SELECT i.name, c.form, c.began_at, c.ended_at, s.place, s.midi, s.outcome
        FROM checks c JOIN players p ON p.id = c.player_id
        JOIN instruments i ON i.id = c.instrument_id LEFT JOIN check_steps s ON s.check_id = c.id
        WHERE p.name = ? ORDER BY 3, 5""",
    "answers": """SELECT answered_at, drill, step_cents, choice FROM listening_answers
        WHERE player = ? ORDER BY 1, 3""",
}


def everything_of(store: Store, player: str) -> dict[str, list[tuple[Any, ...]]]:
    """Return what is kept of a player, without the numbers that a record gives by itself."""
    return {name: store.database.read(sql, (player,)) for name, sql in _CONTENT.items()}


def full_record(store: Store, *, sittings: int = 3) -> None:
    """Fill a record with notes, traces, answers, a trial that was undone, and a check."""
    fill(store, sittings=sittings)
    tape = Alteration(work="tape over part of a hole", amount_mm=0.4, hole="6a")
    number = store.trials.log(
        [tape],
        player="wren",
        instrument="alto",
        made_at=WRITTEN_AT,
        predicted_cents={69: -1.2, 81: -6.5},
        note='"paper", two turns\nand glue',
    )
    store.trials.undo(number, undone_at=WRITTEN_AT, note="too flat")
    with store.database.writing() as connection:
        connection.execute(
            "INSERT INTO checks (player_id, instrument_id, size, form, a4_hz, began_at) SELECT"
            " p.id, i.id, 'alto', 'short', 440.0, '2031-03-20T10:00:00.000000Z'"
            " FROM players p, instruments i WHERE p.name = 'wren' AND i.name = 'alto'"
        )
        connection.execute("INSERT INTO check_steps VALUES (1, 0, 0, 'A', 69, 'played')")
        connection.execute("INSERT INTO check_steps VALUES (1, 1, 0, 'A', 72, NULL)")
        connection.execute("INSERT INTO check_notes VALUES (1, 1, 0)")


def rewritten(path: Path, target: Path, changes: dict[str, bytes | None]) -> Path:
    """Write an archive anew with some members changed, or left out; checksums as they were."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w") as new:
        for member in old.namelist():
            content = changes.get(member, old.read(member))
            if content is not None:
                new.writestr(member, content)
    return target


def with_cell(path: Path, target: Path, *, member: str, old: str, new: str) -> Path:
    """Write an archive anew with one text in it replaced, and its checksum put right."""

    with zipfile.ZipFile(path) as archive:
        content = archive.read(member).decode().replace(old, new, 1).encode()
        about = json.loads(archive.read("about.json"))
    about["tables"][member.removesuffix(".csv")]["sha256"] = hashlib.sha256(content).hexdigest()
    changes = {member: content, "about.json": json.dumps(about).encode()}
    return rewritten(path, target, dict(changes))
