"""What the program does about takes: their pages, their sound, their record, and the way back."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import TYPE_CHECKING

from intonation.engine.messages import (
    EndTake,
    EngineEvent,
    MelodyEnded,
    RevealPitch,
    SoundFault,
    StartMelody,
    StartTake,
)
from intonation.language import name_in_words
from intonation.practice.events import TakeEnded

if TYPE_CHECKING:
    from intonation.app.application import IntonationApp
    from intonation.app.exercise_plan import ExercisePlan
    from intonation.assessment.melody import MelodyScore
    from intonation.exercise.pieces import Exercise
    from intonation.practice.settings import PracticeSettings

_SEEDS = 2**31


class TakeDesk:
    """One take at a time, against a drone or of an exercise.

    Parameters
    ----------
    program
        The program on whose screen it is.
    """

    def __init__(self, program: IntonationApp) -> None:
        self._program = program
        self._taken = program.settings
        self._plan: ExercisePlan | None = None

    def start(self, settings: PracticeSettings | None = None, *, aim: str | None = None) -> None:
        """Open the take page and let the drone sound.

        Parameters
        ----------
        settings
            What is played with; None takes the player's choices. The loudness is always theirs.
        aim
            What the take is for.
        """
        from intonation.app.screens.take import TakePage

        chosen = self._program.settings
        self._taken = replace(settings or chosen, loudness_db=chosen.loudness_db)
        self._begin(self._taken)
        self._program.push_screen(TakePage(self._taken, aim))
        self._program.sound_desk.command(StartTake(self._taken))

    def start_melody(self, plan: ExercisePlan) -> None:
        """Open the melody page and let the backing sound.

        Raises
        ------
        SettingsError
            If the music is wider than the instrument.
        """
        from intonation.app.screens.melody import MelodyPage

        settings = self._program.settings
        score = plan.score(settings, seed=random.randrange(_SEEDS))
        self._plan = plan
        self._begin(settings)
        self._program.push_screen(MelodyPage(name_in_words(plan.exercise.title), score))
        self._program.sound_desk.command(StartMelody(score, settings, plan.rounds))

    def show_exercises(self, exercise: Exercise | None = None) -> None:
        """Open the exercises, one of them marked, in place of whatever lies over the choices."""
        from intonation.app.exercise_plan import ExercisePlan
        from intonation.app.screens.exercises import ExercisesPage

        if exercise is not None:
            self._plan = ExercisePlan.of(exercise)
        program = self._program
        program.leave_pages()
        if not program.is_home:
            program.push_screen(ExercisesPage(self._plan, program.surroundings.exercises_folder))

    def end(self) -> None:
        """Let the drone fade; the summary opens when the engine has summed up."""
        self._program.sound_desk.link.send(EndTake())

    def reveal_pitch(self, shown: bool) -> None:
        """Ask the engine for the present pitch, or for none."""
        self._program.sound_desk.link.send(RevealPitch(shown))

    def follow(self, event: EngineEvent) -> None:
        """Show what a take came to when the engine says that it is over."""
        match event:
            case TakeEnded():
                self._show_summary(event)
            case MelodyEnded(rounds):
                self._show_melody_summary(rounds)
            case SoundFault():
                self._leave_what_never_began()

    def _begin(self, settings: PracticeSettings) -> None:
        self._program.leave_pages()
        self._program.attempt("record", lambda: self._program.surroundings.begin_take(settings))

    def _settle(self) -> None:
        self._program.attempt("record", self._program.surroundings.end_take)
        self._program.leave_pages()

    def _show_summary(self, ended: TakeEnded) -> None:
        from intonation.app.screens.summary import SummaryPage

        self._settle()
        self._program.push_screen(SummaryPage(self._taken, ended.summary))

    def _show_melody_summary(self, rounds: tuple[MelodyScore, ...]) -> None:
        from intonation.app.screens.melody_summary import MelodySummaryPage

        self._settle()
        if self._plan is not None:
            self._program.push_screen(MelodySummaryPage(self._plan, rounds))

    def _leave_what_never_began(self) -> None:
        if any(not page.begun for page in self._program.pages):
            self._program.leave_pages()
