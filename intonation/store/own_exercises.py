"""The player's own exercises: TOML files in one folder, read all at once and never overwritten."""

import re
from dataclasses import dataclass, replace
from pathlib import Path

from intonation.errors import DataFileError, IntonationError, SettingsError
from intonation.exercise.library import exercise_names
from intonation.exercise.pieces import Exercise
from intonation.exercise.writing import exercise_text
from intonation.language import say
from intonation.store.own_files import TOML, read_exercise

_LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class OwnExercises:
    """What a folder holds: exercises by name, and a sentence for every file that is left out."""

    exercises: tuple[Exercise, ...] = ()
    mistakes: tuple[str, ...] = ()


def own_exercises(folder: Path) -> OwnExercises:
    """Return the exercises of a folder; one that does not exist holds none."""
    try:
        paths = sorted(path for path in folder.iterdir() if path.name.endswith(TOML))
    except OSError:
        return OwnExercises()
    exercises, mistakes = list[Exercise](), list[str]()
    for path in paths:
        try:
            exercises.append(read_exercise(path))
        except IntonationError as mistake:
            mistakes.append(str(mistake))
    return OwnExercises(tuple(exercises), tuple(mistakes))


def own_exercise_named(name: str, *, folder: Path) -> Exercise:
    """Return the exercise of a file in the folder, by the file's name without its ending.

    Raises
    ------
    SettingsError
        If there is none.
    DataFileError
        If there is a mistake in it.
    """
    path = folder / f"{name}{TOML}"
    if Path(name).name != name or not path.is_file():
        raise SettingsError(say('There is no exercise "{name}" of your own.', name=name), "")
    return read_exercise(path)


def keep_exercise(exercise: Exercise, *, folder: Path) -> Exercise:
    """Write an exercise to a new file of the folder and return it by the name that it got.

    Raises
    ------
    DataFileError
        If it cannot be written; nothing is left behind then.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        path = _free_path(folder, _word(exercise.name))
        kept = replace(exercise, name=path.name.removesuffix(TOML))
        with path.open("x", encoding="utf-8") as file:
            file.write(exercise_text(kept))
    except OSError as fault:
        raise DataFileError(
            say(
                "The exercise cannot be kept in {folder} ({strerror}).",
                folder=folder,
                strerror=fault.strerror or fault,
            ),
            say("Check who owns the folder, and the space left on the disk."),
        ) from None
    return kept


def _free_path(folder: Path, word: str) -> Path:
    """Return a path that no file has yet, by a name that no exercise of the library has."""
    number, name = 1, word
    while name in exercise_names() or (folder / f"{name}{TOML}").exists():
        number += 1
        name = f"{word}-{number}"
    return folder / f"{name}{TOML}"


def _word(name: str) -> str:
    """Return a name that any file system takes and that can be typed."""
    return re.sub(r"[^\w]+", "-", name.lower())[:_LONGEST_NAME].strip("-_") or "tune"
