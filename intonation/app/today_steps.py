"""What a step of today's plan is played with: the drone under a note, the rounds of a melody."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from intonation.app.exercise_plan import MOST_ROUNDS, ExercisePlan
from intonation.engine.habit_record import todays_choices
from intonation.habits.played import played_from
from intonation.practice.ear_choices import EAR_MINUTES, EarChoices

if TYPE_CHECKING:
    from intonation.app.screens.habits import OpenHabits
    from intonation.exercise.pieces import Exercise
    from intonation.habits.practice_plan import Choices, Step
    from intonation.practice.settings import PracticeSettings

USUAL_MINUTES = 20

_HIGHEST_DRONE, _LOWEST_DRONE = 71, 36
_S_PER_MIN = 60.0


def choices_of(settings: PracticeSettings, opened: OpenHabits | None) -> Choices:
    """Return what a plan can be made of; takes a moment.

    Raises
    ------
    StoreError
        If the record cannot be read.
    """
    instrument = settings.recorder
    if opened is not None:
        return opened().today(settings.player, instrument)
    today = datetime.now().astimezone().date()
    return todays_choices(played_from([]), {}, instrument=instrument, today=today)


def against_drone(settings: PracticeSettings, midi: int) -> PracticeSettings:
    """Return settings with a note's own octave as the drone, low enough to listen into."""
    drone = midi - 12
    while drone > _HIGHEST_DRONE:
        drone -= 12
    drone = max(drone, _LOWEST_DRONE + (drone - _LOWEST_DRONE) % 12)
    return replace(settings, drone_midi=drone, drone_fifth=False, drone_octave=False)


def exercise_plan(exercise: Exercise, step: Step) -> ExercisePlan:
    """Return how an exercise is played to last as long as the step."""
    plan = ExercisePlan.of(exercise)
    once_s = _S_PER_MIN * float(exercise.beats) / plan.tempo
    rounds = min(max(1, round(_S_PER_MIN * step.minutes / once_s)), MOST_ROUNDS)
    return replace(plan, rounds=rounds)


def ear_drill(usual: EarChoices, drill: str, step: Step) -> EarChoices:
    """Return the choices for an ear drill that lasts as long as the step."""
    minutes = min(max(EAR_MINUTES[0], round(step.minutes)), EAR_MINUTES[-1])
    return replace(usual, drill=drill, interval=None, minutes=minutes)
