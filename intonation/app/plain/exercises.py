"""Exercises and melodies in plain lines: what to play when it is time, then how it went."""

import random
from dataclasses import replace

from intonation.app import exercise_words
from intonation.app import words as app_words
from intonation.app.exercise_plan import MOST_ROUNDS, ExercisePlan
from intonation.app.plain import words
from intonation.app.plain.inbox import Typed
from intonation.app.plain.stand import PlainStand, is_over, not_understood
from intonation.assessment.melody import MelodyScore
from intonation.engine.messages import (
    EndTake,
    MelodyEnded,
    NoteDue,
    PhraseScored,
    StartMelody,
)
from intonation.exercise.library import library
from intonation.exercise.pieces import Exercise
from intonation.exercise.score import Score
from intonation.language import name_in_words
from intonation.pitch.notes import note_name
from intonation.store.own_exercises import own_exercises
from intonation.words.melody import melody_lines

_SEEDS = 2**31


def exercises(stand: PlainStand) -> None:
    """Let the player choose exercises and play them."""
    own = own_exercises(stand.surroundings.exercises_folder)
    offered = [*library(), *own.exercises]
    _say_titles(stand, offered)
    stand.say(*own.mistakes, words.EXERCISES)
    while typed := stand.asked():
        if typed == "?":
            _say_titles(stand, offered)
        elif not typed.isdecimal() or not 1 <= int(typed) <= len(offered):
            stand.say(words.NO_SUCH_NUMBER)
        else:
            _one_exercise(stand, ExercisePlan.of(offered[int(typed) - 1]))
            stand.say(words.EXERCISES)


def _say_titles(stand: PlainStand, offered: list[Exercise]) -> None:
    for number, exercise in enumerate(offered, start=1):
        stand.say(words.numbered_title(number, name_in_words(exercise.title)))


def _one_exercise(stand: PlainStand, plan: ExercisePlan) -> None:
    stand.say(name_in_words(plan.exercise.title), name_in_words(plan.exercise.listen))
    _say_plan(stand, plan)
    stand.say(words.EXERCISE_KEYS)
    while typed := stand.asked():
        if typed == "s":
            play_exercise(stand, plan)
        elif typed == "?":
            stand.say(words.EXERCISE_KEYS)
        else:
            changed = _changed(plan, typed)
            plan = changed or plan
            _say_plan(stand, plan) if changed else not_understood(stand)


def _say_plan(stand: PlainStand, plan: ExercisePlan) -> None:
    stand.say(
        f"{app_words.TEMPO}: {app_words.tempo(plan.tempo)}.",
        f"{app_words.PHRASES}: {app_words.phrases(plan.phrase, len(plan.exercise.phrases))}.",
        f"{app_words.ROUNDS}: {app_words.rounds(plan.rounds)}.",
        f"{app_words.MELODY}: {app_words.sounds_too(plan.with_melody)}.",
        f"{exercise_words.COUNT_IN}: {_count_in(plan)}.",
    )


def _count_in(plan: ExercisePlan) -> str:
    return exercise_words.count_in(plan.count_in, is_written=plan.count_in_bars is None)


def _changed(plan: ExercisePlan, typed: str) -> ExercisePlan | None:
    """Return the plan as was typed; None if that means nothing."""
    letter, number = typed[:1].lower(), typed[1:].strip()
    value = int(number) if number.isdecimal() and len(number) < 4 else None
    match letter:
        case "t" if value:
            return plan.faster(value - plan.tempo)
        case "p" if value is None and not number:
            return replace(plan, phrase=None)
        case "p" if value and value <= len(plan.exercise.phrases):
            return replace(plan, phrase=value - 1)
        case "r" if value and value <= MOST_ROUNDS:
            return replace(plan, rounds=value)
        case "m" | "n" if not number:
            return plan.with_other_melody() if letter == "m" else plan.with_next_count_in()
    return None


def play_exercise(stand: PlainStand, plan: ExercisePlan) -> bool:
    """Play an exercise, and say how each phrase and the whole was; return whether it was played."""
    scores: list[Score] = []
    seed = random.randrange(_SEEDS)
    if not stand.try_to(lambda: scores.append(plan.score(stand.settings, seed=seed))):
        return False
    score = scores[0]
    stand.try_to(lambda: stand.surroundings.begin_take(stand.settings))
    stand.say(app_words.COUNT_IN, words.MELODY_KEYS)
    stand.command(StartMelody(score, stand.settings, plan.rounds))
    was_played = _follow(stand, score)
    stand.try_to(stand.surroundings.end_take)
    return was_played


def _follow(stand: PlainStand, score: Score) -> bool:
    """Say what to play and how it went, until it is over; return whether a round was played."""
    said: str | None = None
    for arrived in stand.arrivals():
        if isinstance(arrived, MelodyEnded):
            _say_rounds(stand, arrived.rounds)
            return bool(arrived.rounds)
        if is_over(arrived):
            return False
        if isinstance(arrived, Typed):
            _turn_or_end(stand, arrived)
        elif isinstance(arrived, NoteDue):
            before, said = said, _task(score, arrived)
            stand.say(*([said] if said != before else []))
        elif isinstance(arrived, PhraseScored):
            stand.say(*_phrase_in_lines(score, arrived))
    return False


def _turn_or_end(stand: PlainStand, typed: Typed) -> None:
    if not stand.turn_loudness(typed.line or ""):
        stand.link.send(EndTake())


def _phrase_in_lines(score: Score, scored: PhraseScored) -> tuple[str, ...]:
    """Return how a phrase was; of the only one nothing, since the whole follows at once."""
    if len(score.phrases) == 1:
        return ()
    return (f"{app_words.played_phrase(scored.number)}.", *melody_lines(scored.score))


def _task(score: Score, due: NoteDue) -> str:
    """Return what to play from the phrase on whose note is due."""
    phrase = score.notes[due.number].phrase
    notes = [note_name(note.target.midi) for note in score.notes if note.phrase == phrase]
    task = app_words.play_phrase(phrase, len(score.phrases))
    if due.round_number:
        task = words.again(task, due.round_number)
    return words.play(task, " ".join(notes))


def _say_rounds(stand: PlainStand, rounds: tuple[MelodyScore, ...]) -> None:
    if rounds:
        stand.say(*melody_lines(rounds[-1]))
    if len(rounds) > 1:
        stand.say(app_words.rounds_compared([score.window_cents for score in rounds]))
