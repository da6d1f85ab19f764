"""A tune that a simulated player plays reaches the player's eyes as it was played."""

import numpy as np
import pytest

from intonation.assessment.melody import MelodyScore, score_melody
from intonation.exercise.interpretation import Interpretation
from intonation.exercise.library import exercise_named
from intonation.exercise.realise import realise
from intonation.exercise.score import ScoreNote
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import cents_between
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered
from intonation.simulation.plan import PlannedNote
from intonation.simulation.player import SimulatedPlayer
from intonation.simulation.players import simulated_player
from intonation.tracking.tracker import track

ALTO = instrument_named("alto")


def two_phrases(tune: str) -> tuple[ScoreNote, ...]:
    how = Interpretation(
        lowest_midi=ALTO.lowest_midi,
        highest_midi=ALTO.highest_midi,
        tuning=tempered(temperament_named("equal"), a4_hz=440.0),
    )
    return realise(exercise_named(tune).of_phrases(0, 1), how).notes


def player_of(notes: tuple[ScoreNote, ...], *, gap_s: float) -> SimulatedPlayer:
    ends = [note.start_s for note in notes[1:]] + [notes[-1].end_s + 0.5]
    plan = [
        PlannedNote(
            midi=note.target.midi,
            sounding_s=note.duration_s - gap_s,
            rest_s=end_s - note.end_s + gap_s,
        )
        for note, end_s in zip(notes, ends, strict=True)
    ]
    return simulated_player("wren", ALTO, plan, seed=3, lead_in_s=notes[0].start_s)


def heard(player: SimulatedPlayer, notes: tuple[ScoreNote, ...]) -> MelodyScore:
    samples = player.read(round(48_000 * (notes[-1].end_s + 1.0)))
    return score_melody(notes, track(samples, sample_rate_hz=48_000.0).notes)


@pytest.mark.parametrize("tune", ["innsbruck", "frere-jacques"])
def test_every_note_of_a_tune_is_scored_within_a_cent_of_what_was_played(tune: str) -> None:
    notes = two_phrases(tune)
    player = player_of(notes, gap_s=0.1)
    score = heard(player, notes)
    played_cents = [
        cents_between(played.f0_hz, target_hz=note.target.hz)
        for played, note in zip(player.played, notes, strict=True)
    ]
    assert not score.missed
    assert not score.extra
    scored_cents = np.array([each.cents for each in score.notes], dtype=float)
    assert np.abs(scored_cents - played_cents).max() < 1.0
