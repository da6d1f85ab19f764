"""Everything that is kept of one player, table by table, as records with plain values."""

from collections.abc import Iterator
from functools import cache
from typing import Any

from intonation.store.database import Database
from intonation.store.merging import DETAILS, NOTE
from intonation.store.traces import UNKNOWN_POINT, points_in
from intonation.tracking.trace import CENTS_STEP, LEVEL_STEP_DB

Record = dict[str, Any]

_PAGE = 2000
# a cross join keeps SQLite from sorting all that is left anew for every page
_OUTWARDS = "CROSS JOIN sessions AS s ON s.id = n.session_id"
_OF_PLAYER = "player_id = (SELECT id FROM players WHERE name = ?1)"

_PLAYED = " OR ".join(
    f"i.id IN (SELECT instrument_id FROM {table} WHERE {_OF_PLAYER})"
    for table in ("sessions", "checks", "trials")
)
_INSTRUMENTS = f"""SELECT i.name AS instrument, i.size, i.fingering_system, i.a4_hz, i.remark
    FROM instruments AS i WHERE i.id > ?2 AND ({_PLAYED}) ORDER BY i.id"""
_FORMER_NAMES = f"""SELECT i.name AS instrument, f.name FROM former_names AS f
    JOIN instruments AS i ON i.id = f.instrument_id
    WHERE f.{_OF_PLAYER} AND i.id > ?2 ORDER BY i.id, f.name"""
_SESSIONS = f"""SELECT i.name AS instrument, s.name AS session, s.began_at
    FROM sessions AS s JOIN instruments AS i ON i.id = s.instrument_id
    WHERE s.{_OF_PLAYER} AND s.id > ?2 ORDER BY s.id"""
_TAKES = f"""SELECT t.id AS take, i.name AS instrument, s.name AS session, t.began_at, t.ended_at,
        t.a4_hz, t.temperament, t.drone_midi, t.drone_fifth, t.drone_octave, t.voice
    FROM takes AS t JOIN sessions AS s ON s.id = t.session_id
    JOIN instruments AS i ON i.id = s.instrument_id
    WHERE s.{_OF_PLAYER} AND t.id > ?2 ORDER BY t.id"""
_HELD_NOTES = f"""SELECT n.event, p.name AS player, i.name AS instrument, s.name AS session,
        n.take_id AS take, {", ".join(f'n."{name}"' for name in (*NOTE, "held_at", *DETAILS))}
    FROM held_notes AS n {_OUTWARDS} JOIN players AS p ON p.id = s.player_id
    JOIN instruments AS i ON i.id = s.instrument_id
    WHERE s.{_OF_PLAYER} AND n.event > ?2 ORDER BY n.event LIMIT {_PAGE}"""
_TRACES = f"""SELECT t.event, t.step_s, t.points FROM traces AS t
    CROSS JOIN held_notes AS n ON n.event = t.event {_OUTWARDS}
    WHERE s.{_OF_PLAYER} AND t.event > ?2 ORDER BY t.event LIMIT {_PAGE}"""
_HOW_MANY = f"""SELECT count(*) + count(t.event) FROM held_notes AS n
    JOIN sessions AS s ON s.id = n.session_id LEFT JOIN traces AS t ON t.event = n.event
    WHERE s.{_OF_PLAYER}"""
_CHECKS = f"""SELECT c.id AS "check", i.name AS instrument, c.size, c.form, c.a4_hz, c.began_at,
        c.ended_at
    FROM checks AS c JOIN instruments AS i ON i.id = c.instrument_id
    WHERE c.{_OF_PLAYER} AND c.id > ?2 ORDER BY c.id"""
_CHECK_STEPS = f"""SELECT s.check_id AS "check", s.place, s.pass_number, s.pass, s.midi, s.outcome
    FROM check_steps AS s JOIN checks AS c ON c.id = s.check_id
    WHERE c.{_OF_PLAYER} AND c.id > ?2 ORDER BY c.id, s.place"""
_CHECK_NOTES = f"""SELECT n.event, n.check_id AS "check", n.place
    FROM check_notes AS n JOIN checks AS c ON c.id = n.check_id
    WHERE c.{_OF_PLAYER} AND n.event > ?2 ORDER BY n.event"""
_TRIALS = f"""SELECT t.id AS trial, i.name AS instrument, t.made_at, t.note, t.undone_at,
        t.undo_note
    FROM trials AS t JOIN instruments AS i ON i.id = t.instrument_id
    WHERE t.{_OF_PLAYER} AND t.id > ?2 ORDER BY t.id"""
_TRIAL_WORKS = f"""SELECT w.trial_id AS trial, w.place, w.work, w.amount_mm, w.hole, w.from_mm,
        w.to_mm
    FROM trial_works AS w JOIN trials AS t ON t.id = w.trial_id
    WHERE t.{_OF_PLAYER} AND t.id > ?2 ORDER BY t.id, w.place"""
_TRIAL_PREDICTIONS = f"""SELECT r.trial_id AS trial, r.midi, r.cents
    FROM trial_predictions AS r JOIN trials AS t ON t.id = r.trial_id
    WHERE t.{_OF_PLAYER} AND t.id > ?2 ORDER BY t.id, r.midi"""
_ANSWERS = """SELECT answered_at, drill, interval, register, step_cents, deviation_cents, choices,
        choice, right_choice
    FROM listening_answers WHERE player = ?1 AND id > ?2 ORDER BY id"""
_TUNED = """SELECT tuned_at, drill, interval, register, start_cents, final_cents
    FROM tuned_notes WHERE player = ?1 AND id > ?2 ORDER BY id"""

_WHOLE = {
    "instruments": _INSTRUMENTS,
    "former-names": _FORMER_NAMES,
    "sessions": _SESSIONS,
    "takes": _TAKES,
    "checks": _CHECKS,
    "check-steps": _CHECK_STEPS,
    "check-notes": _CHECK_NOTES,
    "trials": _TRIALS,
    "trial-works": _TRIAL_WORKS,
    "trial-predictions": _TRIAL_PREDICTIONS,
    "listening-answers": _ANSWERS,
    "tuned-notes": _TUNED,
}
_ORDER = (
    "tuned-notes",
    "listening-answers",
    "trial-predictions",
    "trial-works",
    "trials",
    "check-notes",
    "check-steps",
    "checks",
    "traces",
    "held-notes",
    "takes",
    "sessions",
    "former-names",
    "instruments",
)
_PAGED = {"held-notes": _HELD_NOTES, "traces": _TRACES}


class Exporting:
    """One player's part of a practice record.

    Parameters
    ----------
    database
        The record's file.
    player
        Whose part.

    Notes
    -----
    Every method raises a `StoreError` if the file cannot be read.
    """

    def __init__(self, database: Database, player: str) -> None:
        self._database, self._player = database, player

    def tables(self) -> dict[str, Iterator[Record]]:
        """Return every table, to be read in this order.

        Each comes before those that it refers to, so that what is kept meanwhile cannot be
        referred to without being there.
        """
        return {name: self._records(name) for name in _ORDER}

    def notes_and_traces(self) -> int:
        """Return how many held notes and traces there are, which are nearly all of the rows."""
        _, rows = self._database.read_named(_HOW_MANY, (self._player,))
        return int(rows[0][0]) if rows else 0

    def _records(self, name: str) -> Iterator[Record]:
        if name in _WHOLE:
            yield from self._asked(_WHOLE[name], 0)
            return
        after = 0
        while page := list(self._asked(_PAGED[name], after)):
            yield from filter(None, map(_with_points, page)) if name == "traces" else page
            after = page[-1]["event"]

    def _asked(self, question: str, after: int) -> Iterator[Record]:
        names, rows = self._database.read_named(question, (self._player, after))
        for values in rows:
            yield dict(zip(names, values, strict=True))


def _with_points(record: Record) -> Record | None:
    """Return a trace with its points as text; None for one that is damaged."""
    points = points_in(record["points"])
    if points is None or not points[0]:
        return None
    cents, level_db = points
    return {
        "event": record["event"],
        "step_s": record["step_s"],
        "cents": " ".join([_text(point, CENTS_STEP) for point in cents]),
        "level_db": " ".join([_text(point, LEVEL_STEP_DB) for point in level_db]),
    }


@cache
def _text(point: int, step: float) -> str:
    return "?" if point == UNKNOWN_POINT else f"{point * step:.2f}"
