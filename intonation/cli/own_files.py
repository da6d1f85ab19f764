"""What is asked for by a name or by a file of the player's own: exercises and temperaments."""

from pathlib import Path

from intonation.exercise.library import exercise_named
from intonation.exercise.pieces import Exercise
from intonation.pitch.temperaments import Temperament, temperament_named
from intonation.store.own_files import TOML, read_exercise, read_temperament


def exercise_asked_for(name: str) -> Exercise:
    """Return an exercise of the library, or of a file if the name is one's (``tune.toml``)."""
    return read_exercise(Path(name)) if name.endswith(TOML) else exercise_named(name)


def temperament_asked_for(name: str) -> Temperament:
    """Return a temperament by name, or of a file if the name is one's (``own.toml``)."""
    return read_temperament(Path(name)) if name.endswith(TOML) else temperament_named(name)
