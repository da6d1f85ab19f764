"""The ear drills in plain lines: a sound, a question, an answer by number."""

from time import monotonic

import numpy as np

from intonation.app import ear_words
from intonation.app.ear_choices import ear_choices
from intonation.app.ear_drill import (
    block_of,
    conditions_of,
    drill_intervals,
    example_of,
    notes_to_tune,
    sound_of,
    sound_to_tune,
)
from intonation.app.plain import words
from intonation.app.plain.choosing import choose
from intonation.app.plain.stand import PlainStand, not_understood
from intonation.language import name_in_words
from intonation.listening.adjustment import TunedNote, adjustment_result
from intonation.listening.block import Block
from intonation.listening.drills.tune_it import NoteToTune, TuneIt
from intonation.listening.trials import Answer, Condition, Trial
from intonation.practice.ear import ear_setting_of
from intonation.words.cautions import LOUDNESS
from intonation.words.hearing import (
    HOW_FINE,
    QUESTIONS,
    answer_in_words,
    condition_name,
    estimate_in_words,
    example_in_words,
    tuned_in_words,
)
from intonation.words.numbers import sharp_or_flat

NOTES_IN_BLOCK = 12
_SOUNDS_FOR_S = 3.0


def train_ear(stand: PlainStand) -> None:
    """Let the player choose drills and do them."""
    stand.say(LOUDNESS)
    _say_chosen(stand)
    while (typed := stand.asked()) != "b":
        match typed:
            case "":
                stand.try_to(lambda: do_drill(stand))
            case "h":
                stand.try_to(lambda: _example(stand))
            case "c":
                lines = ear_choices(drill_intervals(stand.settings))
                choose(stand, lines, stand.ear.choices, stand.choose_ear)
            case "?":
                pass
            case _:
                not_understood(stand)
        _say_chosen(stand)


def _say_chosen(stand: PlainStand) -> None:
    chosen = stand.ear.choices
    stand.say(f"{name_in_words(chosen.drill)}. {ear_words.DRILL_EXPLAINED[chosen.drill]}")
    stand.try_to(lambda: stand.say(_next(stand)))
    stand.say(words.EAR)


def _next(stand: PlainStand) -> str:
    known = stand.ear.record.known(stand.settings.player)
    due = conditions_of(stand.ear.choices, stand.settings, known, today=stand.ear.record.today)
    return ear_words.due_next("; ".join(condition_name(each) for each in due))


def _example(stand: PlainStand) -> None:
    example = example_of(stand.ear.choices, stand.settings, stand.ear.rng)
    stand.say(example_in_words(example.trial))
    stand.play(example.samples)


def do_drill(stand: PlainStand) -> None:
    """Do the chosen drill, and say what it has found."""
    if stand.ear.choices.is_tuning:
        _tune(stand)
        return
    block = block_of(stand.ear.choices, stand.settings, stand.ear.record, stand.ear.rng)
    stand.say(QUESTIONS[stand.ear.choices.drill], words.DRILL_KEYS)
    while block.trial is not None:
        _one_trial(stand, block, block.trial)
    _say_result(stand, block)


def _one_trial(stand: PlainStand, block: Block, trial: Trial) -> None:
    answers = ", ".join(_label(choice, at) for at, choice in enumerate(trial.choices, start=1))
    stand.say(f"{condition_name(trial.condition)}: {answers}.")
    stand.play(sound_of(trial, stand.ear.rng))
    began_s = monotonic()
    choice = _choice(stand, trial)
    if choice is None:
        block.stop()
        return
    answer = Answer(trial=trial, choice=choice)
    stand.try_to(lambda: stand.ear.record.keep(stand.settings.player, answer))
    thought_s = max(0.0, monotonic() - began_s - trial.duration_s)
    told = block.answered(choice, after_s=thought_s)
    if told is not None:
        stand.say(answer_in_words(told), words.NEXT)
        if stand.asked() == "e":
            block.stop()


def _label(choice: str, number: int) -> str:
    return choice if choice == str(number) else f"{number} {name_in_words(choice)}"


def _choice(stand: PlainStand, trial: Trial) -> str | None:
    """Return the answer; None to end the block."""
    while (typed := stand.asked()) != "e":
        if typed.isdecimal() and 1 <= int(typed) <= len(trial.choices):
            return trial.choices[int(typed) - 1]
        stand.say(words.DRILL_KEYS)
    return None


def _say_result(stand: PlainStand, block: Block) -> None:
    result = block.result()
    if not result.answers:
        stand.say(ear_words.NOTHING_ANSWERED)
        return
    if stand.ear.choices.feedback == "in summary":
        stand.say(*map(answer_in_words, result.answers))
    stand.say(*(estimate_in_words(each, found) for each, found in result.estimates.items()))
    stand.say(HOW_FINE)


def _tune(stand: PlainStand) -> None:
    offered = notes_to_tune(stand.ear.choices, stand.settings, stand.ear.record)
    drill = TuneIt(ear_setting_of(stand.settings))
    stand.say(QUESTIONS[drill.name], words.TUNING_KEYS)
    tuned: list[tuple[Condition, TunedNote]] = []
    while len(tuned) < NOTES_IN_BLOCK:
        condition = offered[int(stand.ear.rng.integers(len(offered)))]
        before = [note for of, note in tuned if of == condition]
        left = _tuned(stand, drill.note_to_tune(condition, stand.ear.rng, before=before))
        if left is None:
            break
        tuned.append((condition, left))
    for condition in dict.fromkeys(of for of, _ in tuned):
        notes = [note for of, note in tuned if of == condition]
        stand.say(tuned_in_words(condition, adjustment_result(notes)))


def _tuned(stand: PlainStand, note: NoteToTune) -> TunedNote | None:
    """Let one note be turned until Enter; None to end the block."""
    stand.say(f"{condition_name(note.condition)}.")
    turns = {"+": (0, 1), "-": (0, -1), "−": (0, -1), "++": (1, 0), "--": (-1, 0), "−−": (-1, 0)}
    typed = "h"
    while typed:
        if typed == "e":
            return None
        coarse, fine = turns.get(typed, (0, 0))
        note = note.turned(coarse=coarse, fine=fine)
        stand.play(sound_to_tune(note, stand.ear.rng, seconds=_SOUNDS_FOR_S))
        typed = stand.asked()
    left = note.left()
    stand.play(np.zeros(480, dtype=np.float32))
    stand.try_to(lambda: stand.ear.record.keep_tuned(stand.settings.player, note.condition, left))
    if stand.ear.choices.feedback == "after each answer":
        stand.say(f"{sharp_or_flat(left.final_cents, 1)}.")
    return left
