"""Which rows are the steps of one swell, and in which order."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from operator import attrgetter

from intonation.heldnotes.row import HeldNoteRow, Kind

SWELLS: frozenset[Kind] = frozenset({"swell", "careful-swell"})
_PAUSE_MINUTES = 0.5
_PAUSE_ROWS = 10
"""Steps further apart than this are of two swells, if nobody named them."""


_WHICH = attrgetter("player", "instrument", "session", "microphone", "midi", "kind", "swell")


def swells_in(rows: Iterable[HeldNoteRow]) -> list[list[HeldNoteRow]]:
    """Return the steps of every swell in the order in which they sounded."""
    together = defaultdict(list)
    for row in rows:
        if row.kind in SWELLS:
            together[_WHICH(row)].append(row)
    swells: list[list[HeldNoteRow]] = []
    for steps in together.values():
        if steps[0].swell:
            swells.append(sorted(steps, key=lambda row: (row.swell_step or 0, row.event)))
        else:
            swells += _apart(sorted(steps, key=lambda row: row.event))
    return swells


def _apart(steps: Sequence[HeldNoteRow]) -> Iterator[list[HeldNoteRow]]:
    """Yield unnamed swells of one note: a pause ends each."""
    swell = [steps[0]]
    for before, step in pairwise(steps):
        if _pause_between(before, step):
            yield swell
            swell = []
        swell.append(step)
    yield swell


def _pause_between(before: HeldNoteRow, step: HeldNoteRow) -> bool:
    if before.minutes is None or step.minutes is None:
        return step.event - before.event > _PAUSE_ROWS
    return step.minutes - before.minutes > _PAUSE_MINUTES
