"""Exercise files are read; every mistake in them is named with its line and a way out."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.errors import DataFileError
from intonation.exercise.exercise_file import check_exercise, parse_exercise
from intonation.exercise.library import library
from intonation.exercise.pieces import Exercise, WrittenNote
from intonation.exercise.writing import exercise_text

TEXT = '''\
title = "A close"
kind = "cadence"
listen = """
The third is low.
The root is home."""
tempo = 60
breath = 1

[[phrase]]
notes = """
A5 Bb5:2
G5:0.5 A5:1/2 rest"""
chords = "F Bb:2 C F"

[[phrase]]
notes = "F5:4"
drone = "F3 C4"
'''


def test_notes_rests_chords_and_drones_are_read() -> None:
    exercise = parse_exercise(TEXT, file_name="close.toml")
    first, second = exercise.phrases
    assert exercise.name == "close"
    assert exercise.listen == "The third is low. The root is home."
    assert first.notes[1] == WrittenNote(82, Fraction(2))
    assert first.notes[3:] == (WrittenNote(81, Fraction(1, 2)), WrittenNote(None, Fraction(1)))
    assert [c.chord.symbol for c in first.chords if c.chord] == ["F", "Bb", "C", "F"]
    assert second.drone == (53, 60)
    assert second.breath == 1


@pytest.mark.parametrize(
    ("old", "new", "line", "hint"),
    [
        ("tempo =", "temop =", 6, "Did you mean tempo?"),
        ('"cadence"', '"cadense"', 2, "cadence"),
        ('kind = "cadence"\n', "", None, "kind is missing"),
        ("tempo = 60", "tempo = 6000", 6, "from 20 to 240"),
        ("tempo = 60", "tempo = true", 6, "from 20 to 240"),
        ("breath = 1", "breath = nan", 7, "from 0 to 16"),
        ("breath = 1", 'written_from = "H"', 7, "F#4"),
        ("Bb5:2", "H5:2", 11, "F#4"),
        ("G5:0.5", "G5:0", 12, "beats after a colon"),
        ("A5:1/2", "A9:1/2", 12, "far outside"),
        ("Bb:2 C", "Bb:2 Cmaj9", 13, "chord symbol"),
        ("F Bb:2 C F", "F Bb:2 C", 13, "4 beats, the notes 5"),
        ('"F3 C4"', '"F3 C4 F4 A4"', 17, "at most 3"),
        ('"F3 C4"', '"F3 C"', 17, "octave"),
        ('drone = "F3 C4"', 'below = "fith"', 17, "fifth"),
        ('drone = "F3 C4"', 'drones = "F3"', 17, "drone"),
        ('drone = "F3 C4"', 'chords = "F:4"\ndrone = "F3"', 16, "exclude each other"),
        ('"F5:4"', '"rest:4"', 16, "nothing but rests"),
        ('notes = "F5:4"\n', "", 15, "no notes"),
        ("breath = 1", 'order = "varied"', 13, "varied order"),
        ('"F5:4"', f'"{"F5 " * 401}"', 16, "place to breathe"),
    ],
)
def test_a_mistake_is_named_with_its_line_and_a_way_out(
    old: str, new: str, line: int | None, hint: str
) -> None:
    assert old in TEXT
    _, mistakes = check_exercise(TEXT.replace(old, new), file_name="close.toml")
    place = "close.toml:" if line is None else f"close.toml, line {line}:"
    told = [str(mistake) for mistake in mistakes]
    assert any(each.startswith(place) and hint in each for each in told), told


def test_every_mistake_is_told_not_only_the_first() -> None:
    text = TEXT.replace("A5 Bb5:2", "A5 X5 Y5").replace('"cadence"', '"dance"')
    _, mistakes = check_exercise(text, file_name="close.toml")
    assert len(mistakes) == 3
    with pytest.raises(DataFileError, match="2 more"):
        parse_exercise(text, file_name="close.toml")


@pytest.mark.parametrize("exercise", library(), ids=lambda each: each.name)
def test_what_is_written_is_read_back_the_same(exercise: Exercise) -> None:
    assert parse_exercise(exercise_text(exercise), file_name=f"{exercise.name}.toml") == exercise


@given(st.text(min_size=1, max_size=200).filter(str.strip))
def test_any_title_survives_writing_and_reading(title: str) -> None:
    exercise = replace(parse_exercise(TEXT, file_name="close.toml"), title=title)
    read = parse_exercise(exercise_text(exercise), file_name="close.toml")
    assert read.title == " ".join(title.split())


@settings(max_examples=300)
@given(st.integers(0, len(TEXT)), st.text(max_size=6), st.integers(0, 12))
def test_any_mangled_file_gives_an_exercise_or_sentences(
    place: int, inserted: str, removed: int
) -> None:
    mangled = TEXT[:place] + inserted + TEXT[place + removed :]
    exercise, mistakes = check_exercise(mangled, file_name="close.toml")
    assert (exercise is None) == bool(mistakes)
    assert all(each.sentence.startswith("close.toml") for each in mistakes)
    assert all(each.what_to_do.endswith((".", "?")) for each in mistakes)


@pytest.mark.parametrize(
    "text",
    ["x = 1\n" + TEXT + '[[phrase]]\nnotes = "X"\n' * 500, TEXT.replace("Bb5:2", "X " * 5000)],
    ids=["phrases", "words"],
)
def test_of_a_text_that_is_something_else_only_the_first_mistakes_are_told(text: str) -> None:
    _, mistakes = check_exercise(text, file_name="close.toml")
    assert len(mistakes) == 50
