"""What the ear drills take from a player's settings: tuning, registers, and tunes to listen to."""

from intonation.exercise.library import library
from intonation.exercise.pieces import Exercise
from intonation.exercise.realise import realise
from intonation.exercise.score import Score
from intonation.instruments.instrument import Instrument
from intonation.listening.drills.tune_note import SlowTune, TuneTone
from intonation.listening.setting import EarSetting
from intonation.practice.interpreting import interpretation_of
from intonation.practice.settings import PURE, PracticeSettings

_MOST_NOTES = 9
"""Longer first phrases are more than one can count along (design judgement)."""


def ear_setting_of(settings: PracticeSettings) -> EarSetting:
    """Return where the drills sound: the player's instrument, concert pitch and tuning.

    Raises
    ------
    SettingsError
        If there is no such instrument or temperament.
    """
    instrument = settings.recorder
    change = _first_of_second_register(instrument)
    return EarSetting(
        tuning=interpretation_of(settings).tuning,
        low_midi=range(instrument.lowest_midi, change),
        high_midi=range(change, instrument.highest_midi + 1),
        pure=settings.temperament == PURE,
    )


def slow_tunes_of(settings: PracticeSettings) -> tuple[SlowTune, ...]:
    """Return the first phrases of the library's melodies that are short enough."""
    how = interpretation_of(settings)
    tunes = (
        _first_phrase(exercise, realise(exercise, how))
        for exercise in library()
        if exercise.kind == "melody"
    )
    return tuple(tune for tune in tunes if len(tune.melody) <= _MOST_NOTES)


def _first_of_second_register(instrument: Instrument) -> int:
    return next(midi for midi in instrument.notes_midi if instrument.in_second_register(midi))


def _first_phrase(exercise: Exercise, score: Score) -> SlowTune:
    phrase = score.phrases[0]
    melody = tuple(
        TuneTone(
            hz=note.target.hz,
            start_s=note.start_s - phrase.start_s,
            end_s=note.end_s - phrase.start_s,
        )
        for note in score.notes
        if note.phrase == phrase.number
    )
    backing = tuple(
        TuneTone(
            hz=tone.hz,
            start_s=max(tone.start_s, phrase.start_s) - phrase.start_s,
            end_s=min(tone.end_s, phrase.end_s) - phrase.start_s,
        )
        for tone in score.reference
        if tone.role in ("bass", "chord", "drone")
        and tone.end_s > phrase.start_s
        and tone.start_s < phrase.end_s
    )
    return SlowTune(name=exercise.title, melody=melody, backing=backing)
