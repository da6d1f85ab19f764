"""The dimensions of one's own instruments are found again, or it is said why they are not."""

from importlib import resources
from pathlib import Path

import pytest

from intonation.errors import DataFileError, SettingsError
from intonation.store.own_geometries import OwnGeometries

ALTO = (resources.files("intonation.acoustics") / "data" / "alto.toml").read_text("utf-8")


def test_each_instrument_finds_its_own_file_at_the_next_sitting(tmp_path: Path) -> None:
    mine, path = tmp_path / "mine.toml", tmp_path / "home" / "geometries.toml"
    mine.write_text(ALTO, "utf-8")
    OwnGeometries(path).remember("plum alto", mine)
    OwnGeometries(path).remember("tenor", tmp_path / "tenor.toml")
    again = OwnGeometries(path)
    geometry = again.geometry_of("plum alto")
    assert geometry is not None
    assert geometry.name == "alto"
    assert again.geometry_of("bass") is None
    again.remember("plum alto", None)
    assert again.file_of("plum alto") is None
    assert again.file_of("tenor") == tmp_path / "tenor.toml"


def test_a_file_that_is_gone_is_named(tmp_path: Path) -> None:
    own = OwnGeometries(tmp_path / "geometries.toml")
    own.remember("alto", tmp_path / "gone.toml")
    with pytest.raises(DataFileError, match=r"gone\.toml cannot be read"):
        own.geometry_of("alto")


def test_a_choice_that_cannot_be_kept_is_said_to_be_forgotten(tmp_path: Path) -> None:
    (tmp_path / "home").write_text("a file where a folder should be", "utf-8")
    own = OwnGeometries(tmp_path / "home" / "geometries.toml")
    with pytest.raises(SettingsError, match="will be forgotten"):
        own.remember("alto", tmp_path / "mine.toml")


def test_a_broken_memory_counts_as_empty(tmp_path: Path) -> None:
    path = tmp_path / "geometries.toml"
    path.write_bytes(b"alto = \xff")
    assert OwnGeometries(path).file_of("alto") is None
