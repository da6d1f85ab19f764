"""The exercises that ship with the product, by name."""

import difflib
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path

from intonation.errors import SettingsError
from intonation.exercise.exercise_file import parse_exercise
from intonation.exercise.pieces import KINDS, Exercise
from intonation.language import say


def library_folder() -> Traversable:
    """Return the folder of the exercise files: inside the wheel, else beside the source code."""
    packaged = resources.files("intonation.exercise") / "library"
    if packaged.is_dir():
        return packaged
    return Path(__file__).parents[2] / "exercises"


@cache
def exercise_names() -> tuple[str, ...]:
    """Return the names of all exercises that ship, in alphabetical order."""
    files = (file.name for file in library_folder().iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in files if name.endswith(".toml")))


@cache
def exercise_named(name: str) -> Exercise:
    """Return an exercise that ships.

    Raises
    ------
    SettingsError
        If there is none of that name; the sentence names the nearest ones.
    """
    if name not in exercise_names():
        near = difflib.get_close_matches(name, exercise_names(), n=3, cutoff=0.4)
        hint = say("Did you mean {near}?", near=say(" or ").join(near)) if near else ""
        raise SettingsError(
            say('There is no exercise "{name}".', name=name),
            hint or say("`intonation exercises` lists them all."),
        )
    text = (library_folder() / f"{name}.toml").read_text("utf-8")
    return parse_exercise(text, file_name=f"{name}.toml")


def library() -> tuple[Exercise, ...]:
    """Return all exercises that ship, from the first things to listen for to whole melodies."""
    exercises = map(exercise_named, exercise_names())
    return tuple(sorted(exercises, key=lambda each: (KINDS.index(each.kind), each.name)))
