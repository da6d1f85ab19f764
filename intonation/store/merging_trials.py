"""Takes in trials that were kept elsewhere, and leaves out those that are there already."""

from collections.abc import Sequence
from sqlite3 import Connection
from typing import Any

from intonation.store.merged import Merged, Record, insert, pair_of
from intonation.store.merging_names import MergingNames

_WORK = ("place", "work", "amount_mm", "hole", "from_mm", "to_mm")


def merge_trial(
    to: Connection,
    merged: Merged,
    names: MergingNames,
    player: str,
    record: Record,
    *,
    works: Sequence[Record],
    predictions: Sequence[Record],
) -> None:
    """Take in a trial; one of the same work at the same moment is the same.

    Parameters
    ----------
    to, merged, names
        The record in the middle of a transaction, what has become of its rows, and what
        instruments are called in it.
    player, record
        Whose trial, and the trial itself.
    works, predictions
        What was done, and what it was predicted to do to each note.
    """
    name = names.settle("trials", player, record["instrument"], record["made_at"])
    pair = pair_of(to, player, name)
    known = to.execute(
        "SELECT id FROM trials WHERE player_id = ? AND instrument_id = ? AND made_at = ?",
        (*pair, record["made_at"]),
    ).fetchall()
    done = [tuple(work.get(name) for name in _WORK) for work in works]
    same = next((number for (number,) in known if _works(to, number) == done), None)
    undone = (record.get("undone_at"), record.get("undo_note") or "")
    merged.count("trials", new=same is None)
    if same is not None:
        to.execute(
            "UPDATE trials SET undone_at = ?, undo_note = ? WHERE id = ? AND undone_at IS NULL",
            (*undone, same),
        )
        return
    columns = ("player_id", "instrument_id", "made_at", "note", "undone_at", "undo_note")
    values = (*pair, record["made_at"], record.get("note") or "", *undone)
    number = insert(to, "trials", columns, values)
    for work in done:
        insert(to, "trial_works", ("trial_id", *_WORK), (number, *work))
    for one in predictions:
        cells = (number, one["midi"], one["cents"])
        insert(to, "trial_predictions", ("trial_id", "midi", "cents"), cells)


def _works(to: Connection, trial: int) -> list[tuple[Any, ...]]:
    return to.execute(
        f"SELECT {', '.join(_WORK)} FROM trial_works WHERE trial_id = ? ORDER BY place", (trial,)
    ).fetchall()
