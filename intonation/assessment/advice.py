"""One piece of advice for a held note: breath, thumb slit, shading, fingering or steadiness."""

from dataclasses import dataclass
from typing import Literal

RemedyKind = Literal["nothing", "breath", "shading", "fingering", "thumb", "steadiness"]
Reason = Literal[
    "in tune",
    "unsteady",
    "within breath",
    "sinking",
    "too flat for breath",
    "too sharp for breath",
    "soft already",
    "loud already",
    "fine shading",
    "coarse shading",
    "thumb first",
    "alternative fits",
    "slit too wide",
    "slit too narrow",
]
"""Why a remedy is advised; ``words`` has the sentences."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What to change, by how much, and what that is expected to do.

    Parameters
    ----------
    remedy
        The kind of change. ``nothing``: the note is well in tune, or all that is left would cost
        tone. ``thumb``: a wider or narrower
        slit at the pinched thumb hole. ``steadiness``: the note wavers too much to say more.
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

    remedy: RemedyKind
    wanted_cents: float
    predicted_cents: float = 0.0
    breath_db: float | None = None
    hole: str | None = None
    covered_fraction: float | None = None
    fingering: str | None = None
    reason: Reason
