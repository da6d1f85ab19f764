"""A trial on an instrument: what was done, when, and what it was predicted to do."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from intonation.acoustics.alterations import Alteration


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One trial, as it is kept.

    Parameters
    ----------
    number
        Its number, unique in a practice record.
    player, instrument
        Who tried it, on what.
    made_at
        When it was done.
    alterations
        What was done, together.
    predicted_cents
        What it was predicted to do to each sounding note.
    note
        The player's own words.
    undone_at, undo_note
        When and why it was undone; None while it stands.
    """

    number: int
    player: str
    instrument: str
    made_at: datetime
    alterations: tuple[Alteration, ...]
    predicted_cents: Mapping[int, float] = field(default_factory=dict)
    note: str = ""
    undone_at: datetime | None = None
    undo_note: str = ""

    @property
    def reversible(self) -> bool:
        """Whether all of it can be undone without a trace."""
        return all(alteration.reversible for alteration in self.alterations)
