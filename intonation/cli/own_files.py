"""What is asked for by a name or by a file of the player's own: exercises and temperaments."""

from pathlib import Path

from intonation.errors import SettingsError
from intonation.exercise.library import exercise_named, exercise_names
from intonation.exercise.pieces import Exercise
from intonation.pitch.temperaments import Temperament, temperament_named
from intonation.store.own_exercises import own_exercise_named
from intonation.store.own_files import TOML, read_exercise, read_temperament
from intonation.store.places import own_exercises_folder


def exercise_asked_for(name: str) -> Exercise:
    """Return an exercise of the library or of the player's own, or of a file (``tune.toml``)."""
    if name.endswith(TOML):
        return read_exercise(Path(name))
    if name in exercise_names():
        return exercise_named(name)
    try:
        return own_exercise_named(name, folder=own_exercises_folder())
    except SettingsError:
        return exercise_named(name)


def temperament_asked_for(name: str) -> Temperament:
    """Return a temperament by name, or of a file if the name is one's (``own.toml``)."""
    return read_temperament(Path(name)) if name.endswith(TOML) else temperament_named(name)
