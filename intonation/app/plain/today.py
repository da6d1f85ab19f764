"""Today's practice in plain lines: the plan step by step, each started by a number or by Enter."""

from __future__ import annotations

from intonation.app import today_words
from intonation.app.plain import words
from intonation.app.plain.ear import do_drill
from intonation.app.plain.exercises import play_exercise
from intonation.app.plain.stand import PlainStand, not_understood
from intonation.app.plain.take import play_take
from intonation.app.today_state import TodayState
from intonation.app.today_steps import (
    USUAL_MINUTES,
    against_drone,
    choices_of,
    ear_drill,
    exercise_plan,
)
from intonation.exercise.pieces import Exercise
from intonation.habits.ear_needs import EarNeed
from intonation.habits.needs import NoteNeed
from intonation.habits.practice_plan import Choices, Step
from intonation.pitch.notes import note_name
from intonation.words.today import before_the_plan, minutes_in_words, step_in_words, why_in_words

_LONGER = {"+": 1, "-": -1, "−": -1}


def practise_today(stand: PlainStand) -> None:
    """Make a plan, and let the player go through it."""
    stand.say(today_words.LOOKING)
    found: list[Choices] = []
    stand.try_to(lambda: found.append(choices_of(stand.settings, stand.surroundings.habits)))
    if not found:
        return
    state = TodayState.of(found[0], USUAL_MINUTES)
    stand.say(*before_the_plan(state.choices))
    _say_plan(stand, state)
    stand.say(words.TODAY_KEYS)
    while (typed := stand.asked().lower()) != "b":
        changed = _after(stand, state, typed)
        if changed is None:
            not_understood(stand)
            continue
        state = changed
        _say_plan(stand, state)
        if state.is_over:
            stand.say(today_words.ALL_DONE)
            return


def _after(stand: PlainStand, state: TodayState, typed: str) -> TodayState | None:
    """Return the plan after something was typed; None where that means nothing."""
    if typed == "?":
        stand.say(*before_the_plan(state.choices), words.TODAY_KEYS)
        return state
    if typed in _LONGER:
        return state.of_other_length(_LONGER[typed])
    letter, number = ("", typed) if typed.isdecimal() else (typed[:1], typed[1:].strip())
    marked = _marked(state, number)
    match letter:
        case "" if marked is not None:
            return _started(stand, marked)
        case "x" if marked is not None:
            return marked.without_step()
        case "o" if marked is not None:
            return marked.with_another()
    return None


def _marked(state: TodayState, number: str) -> TodayState | None:
    """Return the plan with a step marked by its number, or as it is where none was typed."""
    if not number:
        return state if state.steps else None
    if not number.isdecimal() or not 1 <= int(number) <= len(state.steps):
        return None
    return state.moved(int(number) - 1 - state.at)


def _started(stand: PlainStand, state: TodayState) -> TodayState:
    """Return the plan after its marked step, done if anything was played."""
    step = state.step
    assert step is not None
    stand.say(f"{step_in_words(step)}.")
    return state.started().finished() if _is_done(stand, step) else state


def _is_done(stand: PlainStand, step: Step) -> bool:
    match step.choice:
        case NoteNeed(midi=midi):
            stand.say(words.hold_again(note_name(midi), minutes_in_words(step.minutes)))
            return play_take(stand, against_drone(stand.settings, midi))
        case EarNeed(drill=drill):
            return _drilled(stand, drill, step)
        case Exercise():
            return play_exercise(stand, exercise_plan(step.choice, step))


def _drilled(stand: PlainStand, drill: str, step: Step) -> bool:
    usual = stand.ear.choices
    stand.ear.choices = ear_drill(usual, drill, step)
    try:
        return stand.try_to(lambda: do_drill(stand))
    finally:
        stand.ear.choices = usual


def _say_plan(stand: PlainStand, state: TodayState) -> None:
    for number, (step, done) in enumerate(zip(state.steps, state.done, strict=True), start=1):
        what = f"{step_in_words(step)}, {minutes_in_words(step.minutes)}"
        stand.say(words.planned(number, what, None if done else why_in_words(step)))
