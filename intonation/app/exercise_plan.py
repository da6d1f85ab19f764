"""What the player wants of an exercise: tempo, which phrases, how often, with the melody or not."""

from dataclasses import dataclass, replace

import numpy as np

from intonation.app.choices import neighbour
from intonation.exercise.exercise_file import FASTEST, SLOWEST
from intonation.exercise.pieces import Exercise
from intonation.exercise.realise import realise
from intonation.exercise.score import Score
from intonation.pitch.chords import ChordTuning
from intonation.practice.interpreting import interpretation_of
from intonation.practice.settings import PracticeSettings

MOST_ROUNDS = 4
COUNT_INS: tuple[int | None, ...] = (None, 0, 1, 2)
"""Bars that can be counted before the first note; None is as the exercise is written."""
HARMONIES: tuple[ChordTuning | None, ...] = (None, "pure", "adapting", "tempered")


@dataclass(frozen=True, slots=True, kw_only=True)
class ExercisePlan:
    """An exercise as it is to be played.

    Parameters
    ----------
    exercise
        What is written.
    tempo
        Beats per minute.
    phrase
        The one phrase that is played, from 0; None for all.
    rounds
        How often in a row.
    with_melody
        Whether the player's part sounds too.
    harmony
        How chords sound; None as the player's tuning has it.
    count_in_bars
        How many bars are counted before the first note; None as it is written.
    """

    exercise: Exercise
    tempo: float
    phrase: int | None = None
    rounds: int = 1
    with_melody: bool = False
    harmony: ChordTuning | None = None
    count_in_bars: int | None = None

    @classmethod
    def of(cls, exercise: Exercise, *, like: "ExercisePlan | None" = None) -> "ExercisePlan":
        """Return the exercise as it is written: all of it, once, at its own tempo.

        Melody, chords and count-in are as in another plan, if one is given.
        """
        plan = cls(exercise=exercise, tempo=exercise.tempo)
        if like is None:
            return plan
        return replace(
            plan,
            with_melody=like.with_melody,
            harmony=like.harmony,
            count_in_bars=like.count_in_bars,
        )

    @property
    def count_in(self) -> int:
        """Beats that are counted before the first note."""
        if self.count_in_bars is None:
            return self.exercise.count_in
        return self.count_in_bars * self.exercise.beats_in_bar

    def faster(self, beats: float) -> "ExercisePlan":
        """Return the plan so many beats a minute faster (negative: slower)."""
        return replace(self, tempo=min(max(self.tempo + beats, SLOWEST), FASTEST))

    def with_next_phrase(self) -> "ExercisePlan":
        """Return the plan with the next phrase alone, and after the last with all of them."""
        phrases = (None, *range(len(self.exercise.phrases)))
        return replace(self, phrase=neighbour(phrases, self.phrase, 1))

    def with_next_rounds(self) -> "ExercisePlan":
        """Return the plan with one round more, and after the most with one."""
        return replace(self, rounds=self.rounds % MOST_ROUNDS + 1)

    def with_other_melody(self) -> "ExercisePlan":
        """Return the plan with the melody sounding, or silent again."""
        return replace(self, with_melody=not self.with_melody)

    def with_next_harmony(self) -> "ExercisePlan":
        """Return the plan with its chords tuned in the next way, and after the last as chosen."""
        return replace(self, harmony=neighbour(HARMONIES, self.harmony, 1))

    def with_next_count_in(self) -> "ExercisePlan":
        """Return the plan with no bar counted before the first note, one, two, or as written."""
        return replace(self, count_in_bars=neighbour(COUNT_INS, self.count_in_bars, 1))

    def score(self, settings: PracticeSettings, *, seed: int) -> Score:
        """Return the exercise ready to sound on the player's instrument in the player's tuning.

        Raises
        ------
        SettingsError
            If the music is wider than the instrument.
        """
        one = None if self.phrase is None else self.exercise.of_phrases(self.phrase)
        how = interpretation_of(
            settings, tempo=self.tempo, with_melody=self.with_melody, harmony=self.harmony
        )
        counted = replace(one or self.exercise, count_in=self.count_in)
        return realise(counted, how, rng=np.random.default_rng(seed))
