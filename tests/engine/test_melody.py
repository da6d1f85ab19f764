"""A melody with its backing: the chords change in time, and each phrase is scored after it."""

import numpy as np
import pytest
from numpy.typing import NDArray

from intonation.audio.sources import Samples, Silence
from intonation.engine.connecting import simulated_connection
from intonation.engine.connections import StandIn
from intonation.engine.messages import (
    EndTake,
    EngineEvent,
    MelodyEnded,
    NoteDue,
    PhraseScored,
    PlaySound,
    SoundFault,
    SoundPlayed,
    SoundSettings,
    StartMelody,
)
from intonation.engine.sound_engine import SoundEngine
from intonation.exercise.interpretation import Interpretation
from intonation.exercise.library import exercise_named
from intonation.exercise.realise import realise
from intonation.exercise.score import Score
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import shifted_hz
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered
from intonation.practice.settings import PracticeSettings

RATE_HZ = 48_000.0
SETTINGS = PracticeSettings(instrument="alto", loudness_db=-20.0)
ALTO = instrument_named("alto")


def score_of(name: str, *, tempo: float = 90.0) -> Score:
    how = Interpretation(
        lowest_midi=ALTO.lowest_midi,
        highest_midi=ALTO.highest_midi,
        tuning=tempered(temperament_named("equal"), a4_hz=440.0),
        tempo=tempo,
    )
    return realise(exercise_named(name), how)


class PlaysAlong:
    """Plays every note of a score in time, each off by the same cents."""

    sample_rate_hz = RATE_HZ

    def __init__(self, score: Score, *, cents: float, rounds: int = 1) -> None:
        self._left = self._rendered(score, cents, rounds)

    @property
    def exhausted(self) -> bool:
        return False

    def read(self, frames: int) -> Samples:
        block, self._left = self._left[:frames], self._left[frames:]
        return block if block.size else np.zeros(frames, dtype=np.float32)

    @staticmethod
    def _rendered(score: Score, cents: float, rounds: int) -> NDArray[np.float32]:
        rng = np.random.default_rng(2)
        once = 1e-4 * rng.standard_normal(round(score.duration_s * RATE_HZ))
        for note in score.notes:
            begin, end = (round(at_s * RATE_HZ) for at_s in (note.start_s, note.end_s - 0.08))
            time_s = np.arange(end - begin) / RATE_HZ
            rise = np.clip(np.minimum(time_s, time_s[::-1]) / 0.02, 0.0, 1.0)
            hz = shifted_hz(note.target.hz, cents=cents)
            partials = ((1, 0.2), (2, 0.05), (3, 0.02))
            wave = sum(a * np.sin(2.0 * np.pi * hz * n * time_s) for n, a in partials)
            once[begin:end] += rise * wave
        return np.tile(once, rounds).astype(np.float32)


class HearsTheCountIn(PlaysAlong):
    """A microphone that hears the loudspeaker counting in, and nobody play."""

    @staticmethod
    def _rendered(score: Score, _cents: float, rounds: int) -> NDArray[np.float32]:
        time_s = np.arange(round(score.duration_s * RATE_HZ)) / RATE_HZ
        heard = np.zeros(time_s.size)
        for tone in score.reference:
            if tone.role == "count-in":
                sounding = (time_s >= tone.start_s) & (time_s < tone.end_s)
                heard += 0.05 * sounding * np.sin(2.0 * np.pi * tone.hz * time_s)
        return np.tile(heard, rounds).astype(np.float32)


def played(
    score: Score, *, cents: float, rounds: int = 1, player: type[PlaysAlong] = PlaysAlong
) -> list[EngineEvent]:
    connection = StandIn(
        "someone who plays along",
        sample_rate_hz=RATE_HZ,
        make_source=lambda _settings, _synth: player(score, cents=cents, rounds=rounds),
    )
    engine = SoundEngine(lambda: connection, headphones=True)
    engine.open()
    events = engine.obey(StartMelody(score, SETTINGS, rounds))
    while engine.in_take:
        # a source without an end is read one turn of the loop at a time
        events += engine.listen(limit_s=1.0)
    return events


def test_each_phrase_is_scored_right_after_it_and_every_note_in_it() -> None:
    score = score_of("frere-jacques")
    events = played(score, cents=7.0)
    phrases = [event for event in events if isinstance(event, PhraseScored)]
    assert [phrase.number for phrase in phrases] == [span.number for span in score.phrases]
    for phrase in phrases:
        assert not phrase.score.missed
        cents = [note.cents for note in phrase.score.notes]
        np.testing.assert_allclose(cents, 7.0, atol=0.5)


def test_a_count_in_that_the_microphone_hears_is_not_taken_for_playing() -> None:
    score = score_of("long-tones-high")
    events = played(score, cents=0.0, player=HearsTheCountIn)
    (ended,) = (event for event in events if isinstance(event, MelodyEnded))
    assert len(ended.rounds[0].missed) == len(score.notes)


def test_every_note_is_announced_when_it_is_due() -> None:
    score = score_of("frere-jacques")
    due = [event for event in played(score, cents=0.0) if isinstance(event, NoteDue)]
    assert [event.number for event in due] == [note.number for note in score.notes]
    assert [event.at_s for event in due] == [note.start_s for note in score.notes]


def test_a_melody_in_two_rounds_is_scored_round_by_round() -> None:
    score = score_of("cadence-plagal")
    events = played(score, cents=-4.0, rounds=2)
    assert isinstance(events[-1], MelodyEnded)
    assert len(events[-1].rounds) == 2
    for round_score in events[-1].rounds:
        assert not round_score.missed
        assert round_score.notes[0].cents == pytest.approx(-4.0, abs=0.5)


def test_a_melody_that_is_broken_off_keeps_what_was_played() -> None:
    score = score_of("frere-jacques")
    connection = StandIn(
        "someone who plays along",
        sample_rate_hz=RATE_HZ,
        make_source=lambda _settings, _synth: PlaysAlong(score, cents=3.0),
    )
    engine = SoundEngine(lambda: connection, headphones=True)
    engine.open()
    engine.obey(StartMelody(score, SETTINGS))
    engine.listen(limit_s=score.notes[3].end_s)
    phrase, ended = engine.obey(EndTake())
    assert isinstance(phrase, PhraseScored)
    assert isinstance(ended, MelodyEnded)
    heard = [note for note in ended.rounds[0].notes if note.cents is not None]
    assert len(heard) >= 3
    connection.synth.render(48_000)
    assert connection.synth.silent


def test_a_voice_that_does_not_exist_is_said_before_anything_sounds() -> None:
    score = score_of("frere-jacques")
    connection = StandIn(
        "someone", sample_rate_hz=RATE_HZ, make_source=lambda *_: PlaysAlong(score, cents=0.0)
    )
    engine = SoundEngine(lambda: connection, headphones=True)
    engine.open()
    (fault,) = engine.obey(StartMelody(score, PracticeSettings(voice="kazoo")))
    assert isinstance(fault, SoundFault)
    assert not engine.in_take
    assert not np.any(connection.synth.render(48_000))


def test_a_prepared_sound_is_played_between_takes_and_its_end_is_told() -> None:
    score = score_of("frere-jacques")
    connection = StandIn(
        "someone",
        sample_rate_hz=RATE_HZ,
        make_source=lambda *_: PlaysAlong(score, cents=0.0),
        between_takes=lambda: Silence(RATE_HZ),
    )
    engine = SoundEngine(lambda: connection, headphones=True)
    engine.open()
    assert not engine.obey(PlaySound(np.full(9_600, 0.1, dtype=np.float32)))
    assert not engine.listen(limit_s=0.05)
    assert engine.listen(limit_s=0.2) == [SoundPlayed()]
    assert not engine.listen(limit_s=0.2)


def test_the_simulated_player_plays_the_melody() -> None:
    score = score_of("frere-jacques")
    sound = SoundSettings(simulated=True, headphones=True)
    engine = SoundEngine(lambda: simulated_connection(sound, real_time=False), headphones=True)
    engine.open()
    events = engine.obey(StartMelody(score, SETTINGS))
    while engine.in_take:
        events += engine.listen()
    ended = events[-1]
    assert isinstance(ended, MelodyEnded)
    assert len(ended.rounds[0].missed) <= 1
    phrases = [event.number for event in events if isinstance(event, PhraseScored)]
    assert phrases == [span.number for span in score.phrases]
