"""What a listener has chosen before an ear drill, remembered from one sitting to the next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:  # the settings file is read at every start, the drills are not
    from intonation.listening.block import Feedback
    from intonation.listening.trials import Register

EAR_MINUTES = (3, 4, 5, 6)
EAR_FEEDBACK: tuple[Feedback, ...] = ("after each answer", "in summary")
EAR_REGISTERS: tuple[Register | Literal["both"], ...] = ("both", "low", "high")
EAR_VERSIONS = (2, 3)
TUNING_DRILL = "tune it"
EAR_DRILLS = (
    "which way",
    "which is in tune",
    "find the culprit",
    "difference tone",
    "remember",
    "which note",
    TUNING_DRILL,
)
"""Every drill by its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EarChoices:
    """What the listener has chosen.

    Parameters
    ----------
    drill
        Name of the drill.
    interval
        What to listen to; None for what is due.
    register
        Where on the instrument, or ``"both"``.
    versions
        How many are compared in "which is in tune".
    minutes
        Length of the block.
    feedback
        When the listener is told.
    """

    drill: str = "which way"
    interval: str | None = None
    register: Register | Literal["both"] = "both"
    versions: int = 2
    minutes: int = 4
    feedback: Feedback = "after each answer"

    @property
    def is_tuning(self) -> bool:
        """Whether a note is to be tuned, rather than questions answered."""
        return self.drill == TUNING_DRILL

    @property
    def one_register(self) -> Register | None:
        """The register, or None for both."""
        return None if self.register == "both" else self.register
