"""What a practice session says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from intonation.assessment.advice import Advice
    from intonation.assessment.scoring import ScoredNote, Target
    from intonation.assessment.summary import TakeSummary

IgnoredReason = Literal[
    "too short", "outside the instrument", "before your turn", "the drone itself"
]
Phase = Literal["resting", "listen first", "your turn", "note sounds"]


@dataclass(frozen=True, slots=True)
class PhaseChanged:
    """The session went on to another phase; ``at_s`` counts from the start of the sound."""

    phase: Phase
    at_s: float


@dataclass(frozen=True, slots=True)
class NoteScored:
    """A held note has ended and has its score, its advice and its number in the take.

    Parameters
    ----------
    number
        Running number in the take, from 1.
    scored, advice
        The score, and what to do.
    blind
        Whether nothing that moves with the pitch was visible while it sounded.
    previous_midi
        The note played before it in the take, if it ended less than two seconds earlier.
    """

    number: int
    scored: ScoredNote
    advice: Advice
    blind: bool = True
    previous_midi: int | None = None


@dataclass(frozen=True, slots=True)
class NoteIgnored:
    """A sound ended that cannot be scored, and why."""

    reason: IgnoredReason
    onset_s: float
    f0_hz: float


@dataclass(frozen=True, slots=True)
class PitchRevealed:
    """The present deviation, for a player who asked to see it. Only the latest one matters."""

    at_s: float
    target: Target
    cents: float


@dataclass(frozen=True, slots=True)
class TakeEnded:
    """The take is over."""

    summary: TakeSummary


PracticeEvent = PhaseChanged | NoteScored | NoteIgnored | PitchRevealed | TakeEnded
