"""How a player's settings have an exercise sound: range, tuning, and whether chords are pure."""

from intonation.exercise.interpretation import Interpretation
from intonation.pitch.chords import ChordTuning
from intonation.pitch.tuning import tempered
from intonation.practice.settings import PURE, PracticeSettings
from intonation.practice.tuning import temperament_of


def interpretation_of(
    settings: PracticeSettings,
    *,
    tempo: float | None = None,
    with_melody: bool = False,
    harmony: ChordTuning | None = None,
) -> Interpretation:
    """Return how an exercise is to be played.

    Parameters
    ----------
    settings
        Instrument, concert pitch and temperament; pure intervals stand over equal-tempered roots.
    tempo
        Beats per minute; None for the exercise's own.
    with_melody
        Whether the player's part sounds too.
    harmony
        How chords sound; None for pure ones with pure intervals, else by the temperament.

    Raises
    ------
    SettingsError
        If there is no such instrument or temperament.
    """
    instrument = settings.recorder
    is_pure = settings.temperament == PURE
    return Interpretation(
        lowest_midi=instrument.lowest_midi,
        highest_midi=instrument.highest_midi,
        tuning=tempered(temperament_of(settings), a4_hz=settings.a4_hz),
        harmony=harmony or ("pure" if is_pure else "tempered"),
        tempo=tempo,
        with_melody=with_melody,
    )
