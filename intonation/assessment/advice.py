"""One piece of advice for a held note: breath, shading or another fingering."""

from dataclasses import dataclass
from typing import Literal

Remedy = Literal["nothing", "breath", "shading", "fingering"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What to change, by how much, and what that is expected to do.

    Parameters
    ----------
    remedy
        The kind of change. ``nothing``: the note is well in tune.
    wanted_cents
        Change that would bring the note to its target; positive raises it.
    predicted_cents
        Change that this advice is expected to bring.
    breath_db
        For breath: change of sounding level in dB; positive blows more.
    hole, covered_fraction
        For shading: which open hole (0 is the thumb) and how much of it to cover, 0 to 1.
    fingering
        For another fingering: its holes as the instrument file writes them.
    reason
        Key of the reason, put into a sentence by ``words``.
    """

    remedy: Remedy
    wanted_cents: float
    predicted_cents: float = 0.0
    breath_db: float | None = None
    hole: str | None = None
    covered_fraction: float | None = None
    fingering: str | None = None
    reason: str
