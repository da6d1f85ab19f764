"""How an exercise is to be played: on which instrument, in which tuning, how fast."""

from dataclasses import dataclass

from intonation.pitch.chords import ChordTuning
from intonation.pitch.tuning import Tuning


@dataclass(frozen=True, slots=True, kw_only=True)
class Interpretation:
    """How an exercise is to be played.

    Parameters
    ----------
    lowest_midi, highest_midi
        The instrument's range.
    tuning
        The temperament at its concert pitch.
    harmony
        Whether chords, and notes over a drone or reference note, are pure; see `ChordTuning`.
    tempo
        Beats per minute; None for the exercise's own.
    with_melody
        Whether the player's part sounds too.
    """

    lowest_midi: int
    highest_midi: int
    tuning: Tuning
    harmony: ChordTuning = "pure"
    tempo: float | None = None
    with_melody: bool = False
