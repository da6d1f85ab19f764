"""Trials on an instrument in the practice record: logged with their prediction, and undone."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from intonation.acoustics.alterations import Alteration
from intonation.errors import StoreError
from intonation.language import say
from intonation.store.columns import moment_of, utc_text
from intonation.store.database import Database
from intonation.store.names import name_id
from intonation.workshop.trial import Trial

_SELECTED = """SELECT t.id, p.name, i.name, t.made_at, t.note, t.undone_at, t.undo_note
    FROM trials AS t JOIN players AS p ON p.id = t.player_id
    JOIN instruments AS i ON i.id = t.instrument_id
    WHERE (?1 IS NULL OR p.name = ?1) AND (?2 IS NULL OR i.name = ?2) ORDER BY t.id"""


class Trials:
    """The trials of a practice record.

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

    def log(
        self,
        alterations: Sequence[Alteration],
        *,
        player: str,
        instrument: str,
        made_at: datetime,
        predicted_cents: Mapping[int, float],
        note: str = "",
    ) -> int:
        """Keep a trial and return its number; when this returns it is on the disk."""
        with self._database.writing() as connection:
            names = (
                name_id(connection, "players", player),
                name_id(connection, "instruments", instrument),
            )
            inserted = connection.execute(
                "INSERT INTO trials (player_id, instrument_id, made_at, note) VALUES (?, ?, ?, ?)",
                (*names, utc_text(made_at), note),
            )
            number = inserted.lastrowid or 0
            connection.executemany(
                "INSERT INTO trial_works VALUES (?, ?, ?, ?, ?, ?, ?)",
                [
                    (number, place, a.work, a.amount_mm, a.hole, a.from_mm, a.to_mm)
                    for place, a in enumerate(alterations)
                ],
            )
            connection.executemany(
                "INSERT INTO trial_predictions VALUES (?, ?, ?)",
                [(number, midi, cents) for midi, cents in predicted_cents.items()],
            )
        return number

    def undo(self, number: int, *, undone_at: datetime, note: str = "") -> None:
        """Keep that a trial was undone.

        Raises
        ------
        StoreError
            Also if there is no such trial, or it was undone before.
        """
        with self._database.writing() as connection:
            changed = connection.execute(
                "UPDATE trials SET undone_at = ?, undo_note = ? WHERE id = ? AND undone_at IS NULL",
                (utc_text(undone_at), note, number),
            )
            if not changed.rowcount:
                raise StoreError(
                    say("Trial {number} does not stand.", number=number),
                    say("See `intonation trial list` for those that do."),
                )

    def all(self, *, player: str | None = None, instrument: str | None = None) -> tuple[Trial, ...]:
        """Return every trial, the oldest first; None does not restrict."""
        found = self._database.read(_SELECTED, (player, instrument))
        return tuple(self._trial(values) for values in found)

    def _trial(self, values: Sequence[Any]) -> Trial:
        number, player, instrument, made_at, note, undone_at, undo_note = values
        works = self._database.read(
            "SELECT work, amount_mm, hole, from_mm, to_mm FROM trial_works"
            " WHERE trial_id = ? ORDER BY place",
            (number,),
        )
        predicted = self._database.read(
            "SELECT midi, cents FROM trial_predictions WHERE trial_id = ? ORDER BY midi", (number,)
        )
        return Trial(
            number=number,
            player=player,
            instrument=instrument,
            made_at=moment_of(made_at),
            alterations=tuple(_alteration(row) for row in works),
            predicted_cents=dict(predicted),
            note=note,
            undone_at=moment_of(undone_at) if undone_at else None,
            undo_note=undo_note,
        )


def _alteration(row: Sequence[Any]) -> Alteration:
    work, amount_mm, hole, from_mm, to_mm = row
    return Alteration(work=work, amount_mm=amount_mm, hole=hole, from_mm=from_mm, to_mm=to_mm)
