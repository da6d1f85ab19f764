"""A mistake in a TOML file is found on its line, however the file is laid out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.errors import DataFileError
from intonation.toml_text import LONGEST_FILE_CHARACTERS, nearest_word, parse_toml

TEXT = """\
# a remark with title = "not this"
title = "one"

[table]
"C#" = 1

[[phrase]]
notes = "A"
[[phrase]]   # the second
notes = "B"
"""


def test_keys_are_found_under_their_own_table() -> None:
    source = parse_toml(TEXT, file_name="a.toml", what_to_do="")
    assert source.line_of("title") == 2
    assert source.line_of("C#", header="table") == 5
    assert source.line_of("notes", header="phrase", nth=1) == 10
    assert source.line_of("", header="phrase", nth=1) == 9
    assert source.line_of("notes") is None


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("a = 1\nb =\n", "a.toml, line 2"),
        ('a = """', "a.toml, line 1"),
        ("a = 1\na = 2", "a.toml, line 2"),
    ],
)
def test_what_is_no_toml_is_refused_with_its_line(text: str, place: str) -> None:
    with pytest.raises(DataFileError) as mistake:
        parse_toml(text, file_name="a.toml", what_to_do="Look there.")
    assert mistake.value.sentence.startswith(place)
    assert mistake.value.what_to_do == "Look there."


@pytest.mark.parametrize(
    "text", ["a = " + "[" * 5000, "#" * (LONGEST_FILE_CHARACTERS + 1), "a = " + "9" * 9000]
    , ids=["deep", "long", "big"]
)  # fmt: skip
def test_a_text_made_to_exhaust_the_reader_is_refused(text: str) -> None:
    with pytest.raises(DataFileError, match=r"^a\.toml"):
        parse_toml(text, file_name="a.toml", what_to_do="")


@given(st.text(alphabet="ab=\"[]\n #'\\", max_size=60))
def test_any_text_is_read_or_refused_in_a_sentence(text: str) -> None:
    assert outcome(text) in ("read", "refused")


def outcome(text: str) -> str:
    try:
        parse_toml(text, file_name="a.toml", what_to_do="")
    except DataFileError as mistake:
        return "refused" if mistake.sentence.startswith("a.toml") else mistake.sentence
    return "read"


def test_the_nearest_word_is_offered_else_all_of_them() -> None:
    assert nearest_word("temop", ("tempo", "title")) == "Did you mean tempo?"
    assert nearest_word("xyz", ("tempo", "title")) == "Use one of tempo, title."
