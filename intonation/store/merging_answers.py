"""Takes in what was answered and tuned by ear elsewhere, and leaves out what is there already."""

from collections import defaultdict
from collections.abc import Iterable
from sqlite3 import Connection

from intonation.store.merged import Merged, Record, content_of, insert

_ANSWER = (
    "answered_at",
    "drill",
    "interval",
    "register",
    "step_cents",
    "deviation_cents",
    "choices",
    "choice",
    "right_choice",
)
_TUNED = ("tuned_at", "drill", "interval", "register", "start_cents", "final_cents")
_KEPT = {
    "listening-answers": ("listening_answers", _ANSWER),
    "tuned-notes": ("tuned_notes", _TUNED),
}


def merge_answers(
    to: Connection, merged: Merged, player: str, table: str, records: Iterable[Record]
) -> None:
    """Take in rows of ``listening-answers`` or ``tuned-notes``.

    The same row may be there several times: it is taken in as often as it is not there yet.
    """
    kept_in, columns = _KEPT[table]
    there: dict[bytes, int] = defaultdict(int)
    for found in to.execute(
        f"SELECT {', '.join(columns)} FROM {kept_in} WHERE player = ?", (player,)
    ):
        there[content_of(found)] += 1
    for record in records:
        values = [record.get(name) for name in columns]
        content = content_of(values)
        is_new = there[content] <= 0
        there[content] -= 1
        if is_new:
            insert(to, kept_in, ("player", *columns), (player, *values))
        merged.count(table, new=is_new)
