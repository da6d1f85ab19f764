"""The exercises that ship can be played on every recorder, and are the music that they name."""

import json
import re
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from intonation.errors import SettingsError
from intonation.exercise.interpretation import Interpretation
from intonation.exercise.library import exercise_named, exercise_names, library
from intonation.exercise.pieces import KINDS
from intonation.exercise.realise import realise
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered

EQUAL = tempered(temperament_named("equal"), a4_hz=440.0)
LOWEST_NOTES = {"garklein": 84, "sopranino": 77, "soprano": 72, "alto": 65, "tenor": 60, "bass": 53}
# music21 10.5.1's reading of its Bach corpus, written by the script beside the file.
CHORALES = json.loads((Path(__file__).parents[1] / "golden" / "chorale_melodies.json").read_text())
TUNES = [exercise.name for exercise in library() if exercise.kind == "melody"]


def test_there_is_something_of_every_kind_and_a_dozen_tunes() -> None:
    assert {exercise.kind for exercise in library()} == set(KINDS)
    assert len(TUNES) == 12


@pytest.mark.parametrize("name", exercise_names())
def test_an_exercise_says_in_two_sentences_what_to_listen_for(name: str) -> None:
    listen = exercise_named(name).listen
    assert len(re.findall(r"[.!?](?=\s|$)", listen)) == 2, listen


@pytest.mark.parametrize("name", exercise_names())
@pytest.mark.parametrize("instrument", LOWEST_NOTES)
def test_an_exercise_keeps_its_fingerings_on_every_recorder(name: str, instrument: str) -> None:
    lowest = LOWEST_NOTES[instrument]
    how = Interpretation(lowest_midi=lowest, highest_midi=lowest + 26, tuning=EQUAL)
    score = realise(exercise_named(name), how)
    assert score.transposed_semitones == lowest - LOWEST_NOTES["alto"]


@pytest.mark.parametrize("name", CHORALES)
def test_a_chorale_has_the_melody_of_its_source(name: str) -> None:
    notes = [
        note for phrase in exercise_named(name).phrases for note in phrase.notes
        if note.midi is not None
    ]  # fmt: skip
    first = notes[0].midi
    assert first is not None
    melody = [[note.midi - first, float(note.beats)] for note in notes if note.midi is not None]
    assert melody[1:] == CHORALES[name][1:]  # one source cuts its upbeat short with a rest
    assert melody[0][0] == CHORALES[name][0][0] == 0


@pytest.mark.parametrize("name", TUNES)
def test_most_melody_notes_belong_to_the_chord_under_them(name: str) -> None:
    how = Interpretation(lowest_midi=65, highest_midi=91, tuning=EQUAL)
    notes = realise(exercise_named(name), how).notes
    belonging = sum(note.target.member is not None for note in notes)
    assert belonging >= 0.7 * len(notes)


@pytest.mark.parametrize("name", TUNES)
def test_a_tune_says_whose_it_is_and_how_it_was_checked(name: str) -> None:
    tune = exercise_named(name)
    assert "Public domain" in tune.provenance
    assert "music21" in tune.evidence or "from memory" in tune.evidence


def test_a_varied_scale_comes_in_another_order_with_another_seed_and_loses_no_note() -> None:
    how = Interpretation(lowest_midi=65, highest_midi=91, tuning=EQUAL)
    scale = exercise_named("slow-scale-chromatic")
    orders = [
        [n.target.midi for n in realise(scale, how, rng=np.random.default_rng(seed)).notes]
        for seed in (1, 1, 2)
    ]
    assert orders[0] == orders[1]
    assert orders[0] != orders[2]
    assert sorted(orders[0]) == sorted(orders[2]) == list(range(77, 89))


def test_octave_pairs_are_octaves() -> None:
    phrases = exercise_named("octave-pairs-f-to-a").phrases
    played = [[n.midi for n in phrase.notes if n.midi is not None] for phrase in phrases]
    assert all(high - low == 12 for pair in played for low, high in pairwise(pair))


def test_phrases_leave_a_breath() -> None:
    tunes = [exercise_named(name) for name in TUNES]
    assert all(phrase.breath >= Fraction(1) for tune in tunes for phrase in tune.phrases)


def test_an_unknown_exercise_is_answered_with_the_nearest() -> None:
    with pytest.raises(SettingsError, match="greensleeves"):
        exercise_named("greensleaves")
