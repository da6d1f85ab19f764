"""Today's plan as lines for reading, and as JSON."""

import json
from collections.abc import Iterator, Sequence
from typing import Any

from intonation.exercise.pieces import Exercise
from intonation.habits.ear_needs import EarNeed
from intonation.habits.needs import NoteNeed
from intonation.habits.practice_plan import Choices, Step
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.paragraphs import paragraph
from intonation.words.today import (
    before_the_plan,
    minutes_in_words,
    step_in_words,
    why_in_words,
)

VERSION = 1
"""Version of the JSON; it changes when a reader of the old one would be misled."""


def plan_lines(plan: Sequence[Step], choices: Choices, *, player: str) -> Iterator[str]:
    """Yield a plan as a player reads it, line by line."""
    length = minutes_in_words(sum(step.minutes for step in plan))
    yield say(
        "{player} on {instrument}, {length}",
        player=player,
        instrument=choices.instrument.name,
        length=length,
    )
    for sentence in before_the_plan(choices):
        yield from paragraph(sentence)
    yield ""
    for number, step in enumerate(plan, start=1):
        yield f"{number}. {step_in_words(step)}, {minutes_in_words(step.minutes)}"
        yield from paragraph(why_in_words(step), indent=3)


def plan_json(plan: Sequence[Step], choices: Choices, *, player: str) -> str:
    """Return a plan as JSON text."""
    written = {
        "version": VERSION,
        "player": player,
        "instrument": choices.instrument.name,
        "days_away": choices.days_away,
        "steps": [_step(step) for step in plan],
    }
    return json.dumps(written, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _step(step: Step) -> dict[str, Any]:
    return {
        "kind": step.kind,
        "minutes": step.minutes,
        "what": step_in_words(step),
        "why": why_in_words(step),
        **_choice(step),
    }


def _choice(step: Step) -> dict[str, Any]:
    match step.choice:
        case NoteNeed(midi=midi):
            return {"midi": midi, "name": note_name(midi)}
        case EarNeed(drill=drill):
            return {"drill": drill}
        case Exercise(name=name):
            return {"exercise": name}
