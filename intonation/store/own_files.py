"""Text files of the player's own: temperaments and exercises, each mistake a sentence."""

from dataclasses import replace
from pathlib import Path

from intonation.errors import DataFileError
from intonation.exercise.exercise_file import parse_exercise
from intonation.exercise.pieces import Exercise
from intonation.language import say
from intonation.pitch.temperament_file import parse_temperament
from intonation.pitch.temperaments import Temperament

TOML = ".toml"
_MOST_BYTES = 2_000_000


def read_own_text(path: Path) -> str:
    """Return the text of a file.

    Raises
    ------
    DataFileError
        If it is missing, far too large, or no UTF-8 text.
    """
    try:
        with path.open("rb") as file:
            content = file.read(_MOST_BYTES + 1)
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or str(fault)
        raise DataFileError(
            say("{path} cannot be read ({reason}).", path=path, reason=reason),
            say("Check its name."),
        ) from None
    if len(content) > _MOST_BYTES:
        raise DataFileError(say("{path} is far too large.", path=path), say("Name a text file."))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise DataFileError(
            say("{path} is not a text file in UTF-8.", path=path),
            say("Save it as plain text in UTF-8."),
        ) from None


def read_exercise(path: Path) -> Exercise:
    """Return the exercise of a file; it has the file's name."""
    exercise = parse_exercise(read_own_text(path), file_name=str(path))
    return replace(exercise, name=path.name.removesuffix(TOML))


def read_temperament(path: Path) -> Temperament:
    """Return the temperament of a file."""
    return parse_temperament(read_own_text(path), file_name=str(path))
