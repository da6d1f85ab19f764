"""A melody's result is said in a musician's words, short enough for a card."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.assessment.melody import MelodyNoteScore, MelodyScore
from intonation.exercise.score import MelodyTarget, ScoreNote
from intonation.words.melody import (
    NOTHING_PLAYED,
    melody_lines,
    melody_note_line,
    melody_target_in_words,
)


def target(**fields: object) -> MelodyTarget:
    plain: dict[str, object] = {"midi": 81, "hz": 880.0, "origin": "temperament", "tuning": "equal"}
    return MelodyTarget(**(plain | fields))  # type: ignore[arg-type]


THIRD = target(origin="chord", chord="F", member="third")


def scored(of: MelodyTarget, cents: float | None) -> MelodyNoteScore:
    note = ScoreNote(number=0, phrase=0, start_s=0.0, end_s=1.0, target=of)
    return MelodyNoteScore(note, (), cents)


@pytest.mark.parametrize(
    ("of", "said"),
    [
        (THIRD, "the pure third of F"),
        (target(origin="chord", chord="Am", member="root"), "the root of Am"),
        (target(chord="F", member="third"), "A5 in equal temperament, third of F"),
        (
            target(chord="Edim", tuning="vallotti"),
            "A5 in Vallotti, outside the chord Edim",
        ),
        (
            target(origin="drone", interval="major third", over_midi=53),
            "the pure major third over the drone F3",
        ),
        (
            target(origin="reference note", interval="unison", over_midi=81),
            "the unison with the reference note A5",
        ),
        (target(), "A5 in equal temperament"),
    ],
)
def test_a_target_is_said_with_its_reason(of: MelodyTarget, said: str) -> None:
    assert melody_target_in_words(of) == said


def test_a_note_says_how_far_it_was_and_what_it_should_have_been() -> None:
    assert melody_note_line(scored(THIRD, 13.6)) == "A5 14 cents sharp (the pure third of F)"
    assert melody_note_line(scored(THIRD, None)) == "A5 was not heard (the pure third of F)"


def test_the_worst_note_is_what_comes_next() -> None:
    fifth = target(midi=84, origin="chord", chord="F", member="fifth")
    lines = melody_lines(MelodyScore(notes=(scored(fifth, 2.0), scored(THIRD, 17.0)), extra=()))
    assert lines[0] == "2 of 2 notes heard, within 15 cents: inside the window of 20 cents."
    assert lines[1].startswith("A5 17 cents sharp")
    assert lines[-1].startswith("Next: stay on A5, which was sharp")


def test_a_place_that_leans_is_named_where_no_single_note_pulls() -> None:
    lines = melody_lines(MelodyScore(notes=(scored(THIRD, 7.0), scored(THIRD, 8.0)), extra=()))
    assert "every third a little lower" in lines[-1]


def test_silence_is_not_scored() -> None:
    assert melody_lines(MelodyScore(notes=(scored(THIRD, None),), extra=())) == (NOTHING_PLAYED,)


@given(st.lists(st.none() | st.floats(-75, 75), min_size=1, max_size=60))
def test_every_line_fits_a_card(cents: list[float | None]) -> None:
    longest = target(
        midi=82, chord="F#m7b5/Bb", member="seventh", tuning="quarter-comma-meantone-wolf-F#-Db"
    )
    score = MelodyScore(notes=tuple(scored(longest, each) for each in cents), extra=())
    assert all(len(line) <= 100 for line in melody_lines(score))
    short = MelodyScore(notes=tuple(scored(THIRD, each) for each in cents), extra=())
    assert all(len(line) <= 80 for line in melody_lines(short))
