"""What is asked for by a name or by a file of the player's own: exercises and temperaments."""

from pathlib import Path

from intonation.errors import DataFileError
from intonation.exercise.exercise_file import parse_exercise
from intonation.exercise.library import exercise_named
from intonation.exercise.pieces import Exercise
from intonation.pitch.temperament_file import parse_temperament
from intonation.pitch.temperaments import Temperament, temperament_named

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
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise DataFileError(f"{path} cannot be read ({reason}).", "Check its name.") from None
    if len(content) > _MOST_BYTES:
        raise DataFileError(f"{path} is far too large.", "Name a text file.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise DataFileError(
            f"{path} is not a text file in UTF-8.", "Save it as plain text in UTF-8."
        ) from None


def exercise_asked_for(name: str) -> Exercise:
    """Return an exercise of the library, or of a file if the name is one's (``tune.toml``)."""
    if name.endswith(".toml"):
        return parse_exercise(read_own_text(Path(name)), file_name=name)
    return exercise_named(name)


def temperament_asked_for(name: str) -> Temperament:
    """Return a temperament by name, or of a file if the name is one's (``own.toml``)."""
    if name.endswith(".toml"):
        return parse_temperament(read_own_text(Path(name)), file_name=name)
    return temperament_named(name)
