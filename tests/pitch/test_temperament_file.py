"""A player's own temperament is read, or its mistake is named with the line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.errors import DataFileError
from intonation.pitch.notes import PITCH_CLASSES
from intonation.pitch.temperament_file import parse_temperament
from intonation.pitch.temperaments import Temperament, temperament_named

BY_FIFTHS = """\
name = "village-organ"
title = "Village organ"
source = "invented"
comma = "pythagorean"

[fifths]
F-C = "1/6"
C-G = "1/6"
G-D = "1/6"
D-A = "1/6"
A-E = "1/6"
E-B = "1/6"
"""
FROM_EQUAL = """\
name = "measured"
[cents_from_equal]
C = 5.87
"C#" = 0
D = 1.96
Eb = 3.91
E = -1.96
F = 7.82
"F#" = -1.96
G = 3.91
"G#" = 1.96
A = 0
Bb = 5.87
B = -3.91
"""


def test_six_fifths_narrow_by_a_sixth_of_a_comma_are_vallottis() -> None:
    own = parse_temperament(BY_FIFTHS, file_name="own.toml")
    assert own.name == "village-organ"
    assert own.cents_from_c == pytest.approx(temperament_named("vallotti").cents_from_c)


def test_offsets_from_equal_temperament_are_kept_as_written_when_a_is_zero() -> None:
    own = parse_temperament(FROM_EQUAL, file_name="own.toml")
    vallotti = temperament_named("vallotti")
    assert own.cents_from_equal == pytest.approx(vallotti.cents_from_equal, abs=0.006)


def test_cents_above_c_are_read_as_they_stand() -> None:
    text = "[cents_from_c]\n" + "".join(
        f'"{name}" = {100 * step + 1.5}\n' for step, name in enumerate(PITCH_CLASSES)
    )
    own = parse_temperament(text, file_name="flat.toml")
    assert own.cents_from_c == pytest.approx(temperament_named("equal").cents_from_c)
    assert own.name == "flat"


@pytest.mark.parametrize(
    ("text", "old", "new", "line", "hint"),
    [
        (BY_FIFTHS, 'A-E = "1/6"', 'A-F = "1/6"', 11, "Did you mean"),
        (BY_FIFTHS, 'A-E = "1/6"', 'A-E = "1/0"', 11, "1/6"),
        (BY_FIFTHS, 'A-E = "1/6"', "A-E = true", 11, "fraction"),
        (BY_FIFTHS, '"pythagorean"', '"pythagorian"', 4, "pythagorean"),
        (BY_FIFTHS, "title =", "tittle =", 2, "title"),
        (BY_FIFTHS, '"Village organ"', "7", 2, "words in quotes"),
        (BY_FIFTHS, "title =", "title", 2, "TOML"),
        (FROM_EQUAL, "Bb = 5.87", "Bb = 587", 13, "cents"),
        (FROM_EQUAL, "Bb = 5.87", "H = 5.87", 13, "Use one of"),
        (FROM_EQUAL, "Bb = 5.87\n", "", 2, "lacks Bb"),
        (FROM_EQUAL, "Bb = 5.87", "Bb = nan", 13, "cents"),
    ],
)
def test_a_mistake_is_named_with_its_line_and_what_would_be_right(
    text: str, old: str, new: str, line: int, hint: str
) -> None:
    assert old in text
    with pytest.raises(DataFileError) as mistake:
        parse_temperament(text.replace(old, new), file_name="own.toml")
    assert f"own.toml, line {line}:" in mistake.value.sentence
    assert hint in str(mistake.value)


@pytest.mark.parametrize("text", ["", 'name = "x"', BY_FIFTHS + FROM_EQUAL.split("\n", 1)[1]])
def test_exactly_one_table_is_wanted(text: str) -> None:
    with pytest.raises(DataFileError, match=r"\[fifths\]"):
        parse_temperament(text, file_name="own.toml")


@given(
    st.sampled_from((BY_FIFTHS, FROM_EQUAL)), st.integers(0, 250), st.text(max_size=5),
    st.integers(0, 8),
)  # fmt: skip
def test_any_mangled_file_gives_twelve_finite_notes_or_a_sentence(
    text: str, place: int, inserted: str, removed: int
) -> None:
    mangled = text[:place] + inserted + text[place + removed :]
    own, sentence = temperament_or_sentence(mangled)
    assert sentence is not None or all(-1300 < cents < 2500 for cents in own.cents_from_c)
    assert sentence is None or "own.toml" in sentence


def temperament_or_sentence(text: str) -> tuple[Temperament, str | None]:
    try:
        return parse_temperament(text, file_name="own.toml"), None
    except DataFileError as mistake:
        return temperament_named("equal"), mistake.sentence


@pytest.mark.parametrize("name", ["vallotti", "pure", " equal "])
def test_the_name_of_a_temperament_that_ships_is_refused_since_notes_are_kept_under_it(
    name: str,
) -> None:
    text = BY_FIFTHS.replace("village-organ", name)
    with pytest.raises(DataFileError, match=r"own\.toml, line 1: .*name of another tuning"):
        parse_temperament(text, file_name="own.toml")


def test_without_a_name_it_is_called_after_its_file_wherever_that_lies() -> None:
    text = BY_FIFTHS.replace('name = "village-organ"\n', "")
    assert parse_temperament(text, file_name="/home/wren/hall.toml").name == "hall"
