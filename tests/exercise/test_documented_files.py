"""Every whole file that the documentation shows is one that the program reads."""

import re
from pathlib import Path

import pytest

from intonation.exercise.exercise_file import BELOW, check_exercise
from intonation.exercise.pieces import KINDS
from intonation.pitch.chords import CHORD_KINDS
from intonation.pitch.fifths import WOLVES
from intonation.pitch.temperament_file import parse_temperament
from intonation.pitch.temperaments import TEMPERAMENTS

DOCS = Path(__file__).parents[2] / "docs"
EXERCISE_FILES = (DOCS / "exercise-files.md").read_text("utf-8")
TEMPERAMENT_PAGE = (DOCS / "how-it-works" / "temperaments.md").read_text("utf-8")


def toml_blocks(page: str) -> list[str]:
    return re.findall(r"```toml\n(.*?)```", page, re.DOTALL)


@pytest.mark.parametrize("text", toml_blocks(EXERCISE_FILES))
def test_a_documented_exercise_is_in_order(text: str) -> None:
    exercise, mistakes = check_exercise(text, file_name="documented.toml")
    assert exercise is not None, [str(mistake) for mistake in mistakes]


@pytest.mark.parametrize("text", toml_blocks(TEMPERAMENT_PAGE))
def test_a_documented_temperament_is_in_order(text: str) -> None:
    assert len(parse_temperament(text, file_name="documented.toml").cents_from_c) == 12


def test_the_pages_name_every_word_that_the_files_can_use() -> None:
    assert all(f"`{kind}`" in EXERCISE_FILES for kind in KINDS)
    assert all(f"`{kind}`" in EXERCISE_FILES for kind in CHORD_KINDS if kind)
    assert {"unison", "octave", "minor third"} <= set(BELOW)
    assert all(f"`{name}`" in TEMPERAMENT_PAGE for name in TEMPERAMENTS)
    spelled = TEMPERAMENT_PAGE.replace("♯", "#").replace("♭", "b").replace("–", "-")
    assert all(wolf in spelled for wolf in WOLVES)
