"""After a phrase the player reads which note pulled, how far, and where in the chord it stood."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.assessment.melody import plain_target, score_melody, scored_melody_notes
from intonation.exercise.interpretation import Interpretation
from intonation.exercise.library import exercise_named
from intonation.exercise.realise import realise
from intonation.exercise.score import ScoreNote
from intonation.pitch.cents import shifted_hz
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered
from intonation.tracking.events import HeldNote

SCORE = realise(
    exercise_named("innsbruck"),
    Interpretation(
        lowest_midi=65, highest_midi=91, tuning=tempered(temperament_named("equal"), a4_hz=440.0)
    ),
)
NOTES = SCORE.notes
PHRASE = tuple(note for note in NOTES if note.phrase == 0)


def held(note: ScoreNote, *, cents: float = 0.0, late_s: float = 0.05) -> HeldNote:
    return HeldNote(
        onset_s=note.start_s + late_s,
        offset_s=note.end_s - 0.03 + late_s,
        f0_hz=shifted_hz(note.target.hz, cents=cents),
        standard_error_cents=0.1,
        sd_cents=1.0,
        drift_cents_per_s=0.0,
        level_db=-20.0,
        harmonic_to_noise_db=30.0,
    )


@given(st.lists(st.floats(-30, 30), min_size=len(NOTES), max_size=len(NOTES)), st.floats(-0.2, 0.4))
def test_every_note_of_a_melody_gets_its_own_cents(cents: list[float], late_s: float) -> None:
    played = [held(n, cents=c, late_s=late_s) for n, c in zip(NOTES, cents, strict=True)]
    score = score_melody(NOTES, played)
    assert [each.cents for each in score.notes] == pytest.approx(cents, abs=1e-6)
    assert not score.extra


@given(st.integers(0, len(NOTES) - 1), st.floats(-10, 10))
def test_a_note_left_out_is_missed_and_disturbs_no_other(left_out: int, cents: float) -> None:
    others = [note for note in NOTES if note.number != left_out]
    score = score_melody(NOTES, [held(note, cents=cents) for note in others])
    assert [note.number for note in score.missed] == [left_out]


@given(st.floats(1.05, 1.5))
def test_a_player_who_takes_time_is_followed_by_the_order_of_the_notes(slower: float) -> None:
    played = [
        replace(held(n), onset_s=n.start_s * slower, offset_s=n.end_s * slower) for n in NOTES
    ]
    score = score_melody(NOTES, played)
    assert not score.missed
    assert not score.extra


def test_a_wrong_note_is_extra_and_the_right_one_missed() -> None:
    played = [held(note, cents=100.0 if note.number == 2 else 3.0) for note in PHRASE]
    score = score_melody(PHRASE, played)
    assert [note.number for note in score.missed] == [2]
    assert len(score.extra) == 1
    assert score.window_cents == pytest.approx(0.0, abs=1e-6)


def test_a_note_that_broke_in_two_counts_as_one_by_the_length_of_its_parts() -> None:
    long = PHRASE[6]
    first = replace(held(long, cents=0.0), offset_s=long.start_s + 0.4)
    second = replace(held(long, cents=10.0), onset_s=long.start_s + 0.5, offset_s=long.end_s)
    played = [held(note) for note in PHRASE if note is not long] + [first, second]
    score = score_melody(PHRASE, sorted(played, key=lambda each: each.onset_s))
    assert not score.extra
    weight = second.duration_s / (first.duration_s + second.duration_s)
    assert score.notes[6].cents == pytest.approx(10.0 * weight)


def test_a_repeated_note_played_in_one_breath_is_both_notes() -> None:
    repeated = next(
        (a, b) for a, b in pairwise(NOTES)
        if a.target.midi == b.target.midi and a.phrase == b.phrase
    )  # fmt: skip
    phrase = tuple(note for note in NOTES if note.phrase == repeated[0].phrase)
    tied = replace(held(repeated[0], cents=4.0), offset_s=repeated[1].end_s)
    played = [held(n) for n in phrase if n not in repeated] + [tied]
    score = score_melody(phrase, sorted(played, key=lambda each: each.onset_s))
    assert not score.missed
    assert not score.extra


def test_thirds_that_pull_sharp_are_named_as_thirds() -> None:
    played = [held(n, cents=14.0 if n.target.member == "third" else 1.0) for n in NOTES]
    score = score_melody(NOTES, played)
    assert score.places[0].place == "third"
    assert score.places[0].mean_cents == pytest.approx(14.0)
    assert {each.note.target.member for each in score.pulled} == {"third"}
    assert sum(place.count for place in score.places) == len(NOTES)


@pytest.mark.parametrize(
    ("exercise", "places"),
    [
        ("thirds-over-drone", {"major third", "minor third"}),
        ("fifth-below", {"fifth"}),
        ("long-tones-low", {"alone"}),
    ],
)
def test_without_chords_a_note_stands_at_its_interval_or_alone(
    exercise: str, places: set[str]
) -> None:
    equal = tempered(temperament_named("equal"), a4_hz=440.0)
    how = Interpretation(lowest_midi=65, highest_midi=91, tuning=equal)
    notes = realise(exercise_named(exercise), how).notes
    score = score_melody(notes, [held(note, cents=6.0) for note in notes])
    assert {place.place for place in score.places} == places


def test_the_worst_note_comes_first() -> None:
    played = [held(note, cents=12.0 + note.number) for note in PHRASE]
    assert score_melody(PHRASE, played).pulled[0].note is PHRASE[-1]


def test_silence_gives_no_figures_instead_of_zeros() -> None:
    score = score_melody(PHRASE, [])
    assert score.window_cents is None
    assert len(score.missed) == len(PHRASE)
    assert score.places == ()


def test_what_is_kept_of_a_pure_target_says_that_it_was_pure() -> None:
    score = score_melody(PHRASE, [held(note, cents=-6.0) for note in PHRASE])
    kept = list(scored_melody_notes(score))
    assert [each.cents for each in kept] == pytest.approx([-6.0] * len(PHRASE))
    assert plain_target(PHRASE[0].target).tuning == "pure"
    assert plain_target(PHRASE[2].target).tuning == "equal"  # G over a diminished chord


@given(st.lists(st.tuples(st.floats(0, 70), st.floats(0.1, 3), st.floats(300, 1500)), max_size=40))
def test_whatever_was_played_every_held_note_is_used_or_extra(
    sounds: list[tuple[float, float, float]],
) -> None:
    played = [
        replace(held(PHRASE[0]), onset_s=onset, offset_s=onset + length, f0_hz=f0_hz)
        for onset, length, f0_hz in sorted(sounds)
    ]
    score = score_melody(NOTES, played)
    used = {id(each) for note in score.notes for each in note.held}
    assert used | {id(each) for each in score.extra} == {id(each) for each in played}
    assert used.isdisjoint({id(each) for each in score.extra})
