"""A maker's file of dimensions is read, or refused with one sentence that helps."""

from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.acoustics.geometry_file import parse_geometry
from intonation.errors import DataFileError

ALTO = (resources.files("intonation.acoustics") / "data" / "alto.toml").read_text("utf-8")


def test_the_shipped_alto_has_ten_holes_in_front_of_its_foot() -> None:
    geometry = parse_geometry(ALTO, file_name="alto.toml")
    assert len(geometry.holes) == 10
    assert all(hole.position_mm < geometry.length_mm for hole in geometry.holes)


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ("window_mm = 45.80", "window_mm = -3", "window_mm"),
        ("window_mm = 45.80", "", "window_mm"),
        ("head_joint_mm = 80.0", 'head_joint_mm = "long"', "head_joint_mm"),
        ("position_mm = 142.40", "position_mm = 900", "hole 1"),
        ("diameter_mm = 5.28", "diameter_mm = 40", "hole 1"),
        ("[80.00, 9.290]", "[80.00]", "bore_mm"),
        ("[[hole]]", "[[hollow]]", "[[hole]]"),
        ("bore_mm = [", "bore_mm = ", "TOML"),
        ('name = "3"', 'name = "thumb"', '"thumb"'),
        ('name = "3"', 'name = "2"', "hole 2"),
        ('name = "3"', 'name = "6"', "hole 3"),
        ('name = "6b"', 'name = "6"', "finger 6"),
    ],
)
def test_a_mistake_is_named_with_the_file(old: str, new: str, named: str) -> None:
    assert old in ALTO
    with pytest.raises(DataFileError) as mistake:
        parse_geometry(ALTO.replace(old, new), file_name="mine.toml")
    assert "mine.toml" in mistake.value.sentence
    assert named in mistake.value.sentence


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("window_mm = 45.80", "", "mine.toml: window_mm is missing"),
        ("window_mm = 45.80", "window_mm = -3", "mine.toml, line {line}: window_mm must be"),
        ("position_mm = 142.40", "position_mm = 900", "mine.toml, line {line}: hole 1 lies beyond"),
        ('name = "3"', 'name = "2"', "mine.toml, line {line}: hole 2 stands there twice"),
    ],
)
def test_a_mistake_is_named_with_its_line(old: str, new: str, told: str) -> None:
    line = ALTO[: ALTO.index(old)].count("\n") + 1
    with pytest.raises(DataFileError) as mistake:
        parse_geometry(ALTO.replace(old, new), file_name="mine.toml")
    assert told.format(line=line) in mistake.value.sentence


def test_a_single_hole_may_stand_in_place_of_a_pair() -> None:
    small = ALTO.index('[[hole]]\nname = "7b"')
    single = ALTO[:small].replace('name = "7a"', "name = 7")
    assert parse_geometry(single, file_name="mine.toml").hole("7").diameter_mm == 3.71


@given(st.integers(0, len(ALTO)), st.text(max_size=6))
def test_any_mangled_file_gives_a_geometry_or_a_sentence(place: int, inserted: str) -> None:
    sentence = sentence_about(ALTO[:place] + inserted + ALTO[place:])
    assert sentence is None or sentence.startswith("mine.toml")


def sentence_about(text: str) -> str | None:
    try:
        parse_geometry(text, file_name="mine.toml")
    except DataFileError as mistake:
        return mistake.sentence
    return None
