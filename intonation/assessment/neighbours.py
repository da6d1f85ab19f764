"""How loud a player plays about a pitch, from the other notes of the same take."""

from collections.abc import Iterable
from statistics import median

from intonation.assessment.scoring import ScoredNote

_NEAR_SEMITONES = 7
_FEWEST = 3
"""Notes within a fifth are blown alike; three have a middle (judgement)."""


def usual_level_db(notes: Iterable[ScoredNote], *, midi: int) -> float | None:
    """Return the middle level of a take's notes near a note in dB, or None if there are too few.

    Parameters
    ----------
    notes
        Held notes of one player, instrument and microphone position.
    midi
        The note in question.
    """
    levels = [n.held.level_db for n in notes if abs(n.target.midi - midi) <= _NEAR_SEMITONES]
    return median(levels) if len(levels) >= _FEWEST else None
