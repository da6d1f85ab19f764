"""Whether the window of all notes became narrower: its width before and after, and the verdict."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from math import hypot
from typing import Literal

from intonation.diagnosis.attribution import Progress, unwatched
from intonation.diagnosis.parts import Interval
from intonation.heldnotes.row import HeldNoteRow
from intonation.workshop.offsets import offsets_of

WindowVerdict = Literal["narrower", "wider", "cannot tell"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowChange:
    """The width in cents within which the same notes of an instrument lie, before and after.

    Parameters
    ----------
    notes
        How many notes were measured on both sides; only these count.
    before, after
        The widths with their 90 % intervals.
    """

    notes: int
    before: Interval
    after: Interval

    @property
    def change(self) -> Interval:
        """After minus before in cents; negative is narrower.

        The two sides were measured on their own, so the halves of their intervals add up as the
        root of the sum of their squares.
        """
        change = self.after.mean - self.before.mean
        low = hypot(self.after.mean - self.after.low, self.before.high - self.before.mean)
        high = hypot(self.after.high - self.after.mean, self.before.mean - self.before.low)
        return Interval(change, change - low, change + high)

    @property
    def verdict(self) -> WindowVerdict:
        """Narrower or wider where the whole interval of the change says so."""
        if self.change.high < 0.0:
            return "narrower"
        return "wider" if self.change.low > 0.0 else "cannot tell"


def window_change(
    rows: Iterable[HeldNoteRow],
    *,
    before: Collection[str],
    after: Collection[str],
    progress: Progress = unwatched,
) -> WindowChange | None:
    """Return what became of the window between sessions of one player on one instrument.

    Parameters
    ----------
    rows
        Held notes of the pair.
    before, after
        Session names.
    progress
        Called with the share that is done of each side; an exception from it cancels.

    Returns
    -------
    WindowChange or None
        None if fewer than five different notes were measured on both sides.
    """
    kept = list(rows)
    sides = [[row for row in kept if row.session in side] for side in (before, after)]
    shared = {row.midi for row in sides[0]} & {row.midi for row in sides[1]}
    widths = [
        _window([row for row in side if row.midi in shared], progress) for side in sides if shared
    ]
    match widths:
        case [Interval() as earlier, Interval() as later]:
            return WindowChange(notes=len(shared), before=earlier, after=later)
    return None


def _window(rows: list[HeldNoteRow], progress: Progress) -> Interval | None:
    pair = rows[0]
    offsets = offsets_of(rows, player=pair.player, instrument=pair.instrument, progress=progress)
    return None if offsets is None else offsets.overall.window
