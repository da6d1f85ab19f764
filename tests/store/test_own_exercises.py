"""The player's own exercises are kept under names of their own, and nothing is overwritten."""

from dataclasses import replace
from pathlib import Path

import pytest

from intonation.errors import DataFileError, SettingsError
from intonation.exercise.library import exercise_named
from intonation.store.own_exercises import keep_exercise, own_exercise_named, own_exercises
from intonation.store.own_files import read_own_text
from tests.support.ordinary_user import folder_of_an_ordinary_user

TUNE = replace(exercise_named("frere-jacques"), name="Ünder the lime  tree!", title="Lime tree")


def test_what_is_kept_is_read_back_as_it_was(tmp_path: Path) -> None:
    kept = keep_exercise(TUNE, folder=tmp_path / "exercises")
    assert kept.name == "ünder-the-lime-tree"
    assert own_exercises(tmp_path / "exercises").exercises == (kept,)
    assert own_exercise_named(kept.name, folder=tmp_path / "exercises") == kept


def test_the_same_name_twice_is_kept_twice_and_a_name_of_the_library_is_left_alone(
    tmp_path: Path,
) -> None:
    names = [keep_exercise(replace(TUNE, name="tune"), folder=tmp_path).name for _ in range(3)]
    assert names == ["tune", "tune-2", "tune-3"]
    assert keep_exercise(exercise_named("innsbruck"), folder=tmp_path).name == "innsbruck-2"


@pytest.mark.parametrize("name", ["", "../..", "///", "…", ".toml"])
def test_no_name_leads_out_of_the_folder(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "exercises"
    keep_exercise(replace(TUNE, name=name), folder=folder)
    assert [path.parent for path in tmp_path.rglob("*.toml")] == [folder]
    with pytest.raises(SettingsError):
        own_exercise_named(f"../{folder.name}/tune", folder=folder)


def test_a_folder_that_is_not_there_holds_nothing(tmp_path: Path) -> None:
    assert own_exercises(tmp_path / "none").exercises == ()


def test_a_folder_that_cannot_be_written_is_said_and_nothing_is_left_behind() -> None:
    with folder_of_an_ordinary_user() as home:
        home.chmod(0o500)
        with pytest.raises(DataFileError, match="cannot be kept in"):
            keep_exercise(TUNE, folder=home / "exercises")
        assert list(home.iterdir()) == []


def test_a_name_that_no_file_can_have_is_a_sentence() -> None:
    with pytest.raises(DataFileError, match="cannot be read"):
        read_own_text(Path("a\0b"))
