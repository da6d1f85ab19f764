"""Real sound: PortAudio and PulseAudio, with the player's sound and the drone in one room."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from intonation.audio.sound_files import write_recording
from intonation.diagnosis.check import AskedTone
from intonation.engine.messages import (
    AskTone,
    CheckListening,
    EndTake,
    SoundCounters,
    SoundFault,
    SoundReady,
    SoundSettings,
    StartCheck,
    StartTake,
    ToneHeard,
)
from intonation.engine.process import EngineClient
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import cents_between
from intonation.practice.events import NoteScored, PhaseChanged, TakeEnded
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of
from intonation.simulation.plan import long_tones
from intonation.simulation.player import PlayedNote
from intonation.simulation.players import simulated_player
from tests.support.pulse import (
    PulseSession,
    once_more_if_busy,
    pulse_session,
    what_is_missing,
)
from tests.support.steady_sound import roughest_step_db
from tests.support.waiting import Heard

MISSING = what_is_missing()
pytestmark = [
    pytest.mark.audio,
    pytest.mark.skipif(MISSING is not None, reason=str(MISSING)),
]

SETTINGS = PracticeSettings(drone_midi=65, loudness_db=-20.0)


@pytest.fixture(scope="module")
def room() -> Iterator[PulseSession]:
    with pulse_session() as session:
        yield session


def a_player_recorded(path: Path) -> tuple[PlayedNote, ...]:
    player = simulated_player(
        "wren",
        instrument_named("alto"),
        long_tones((69, 72, 84), sounding_s=1.2),
        seed=7,
        reference_hz=drone_of(SETTINGS).frequencies_hz,
        lead_in_s=0.3,
    )
    write_recording(path, player.read(48_000 * 30), sample_rate_hz=48_000.0)
    return player.played


@once_more_if_busy
def test_what_is_played_is_heard_bit_for_bit(room: PulseSession) -> None:
    command = [sys.executable, "-m", "tests.support.sound_loop"]
    run = subprocess.run(
        command, env=room.environment, capture_output=True, text=True, check=True, timeout=60
    )
    found = json.loads(run.stdout)
    assert found["common_s"] > 2.0
    assert found["largest_difference"] == 0.0
    assert found["gaps"] == 0


@once_more_if_busy
def test_a_reference_that_fails_is_silent_and_counted_and_so_is_every_loss(
    room: PulseSession,
) -> None:
    command = [sys.executable, "-m", "tests.support.faltering_sound"]
    run = subprocess.run(
        command, env=room.environment, capture_output=True, text=True, check=True, timeout=60
    )
    found = json.loads(run.stdout)
    assert found["went_on"]
    assert found["failed"] >= 3
    assert found["loudest"] == 0.0
    # the first block of an output may be late through no fault of anyone
    assert (found["underflows"], found["overflows"]) == (2, 3)


@once_more_if_busy
def test_notes_played_while_the_drone_sounds_are_scored_within_half_a_cent(
    room: PulseSession, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    truth = a_player_recorded(tmp_path / "player.wav")
    for name, value in room.environment.items():
        monkeypatch.setenv(name, value)
    heard = Heard()
    with EngineClient(SoundSettings(), heard, log_path=tmp_path / "sound.log") as client:
        heard.wait_for(SoundReady)
        client.send(StartTake(SETTINGS))
        heard.wait_for(PhaseChanged, count=2)
        room.play(tmp_path / "player.wav")
        heard.wait_for(NoteScored, count=len(truth))
        client.send(EndTake())
        heard.wait_for(TakeEnded)
    notes = heard.of(NoteScored)
    assert [note.scored.target.midi for note in notes] == [note.midi for note in truth]
    for note, played in zip(notes, truth, strict=True):
        assert abs(cents_between(note.scored.held.f0_hz, target_hz=played.f0_hz)) < 0.5
    counters = heard.of(SoundCounters)[-1]
    assert (counters.overflows, counters.underflows, counters.dropped_samples) == (0, 0, 0)


@once_more_if_busy
def test_a_check_hears_only_the_tone_that_it_has_asked_for(
    room: PulseSession, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    truth = a_player_recorded(tmp_path / "player.wav")
    for name, value in room.environment.items():
        monkeypatch.setenv(name, value)
    heard = Heard()
    with EngineClient(SoundSettings(), heard, log_path=tmp_path / "sound.log") as client:
        heard.wait_for(SoundReady)
        client.send(StartCheck(SETTINGS))
        heard.wait_for(CheckListening)
        room.play(tmp_path / "player.wav")
        client.send(AskTone(AskedTone(truth[0].midi, "as always", number=5)))
        room.play(tmp_path / "player.wav")
        heard.wait_for(ToneHeard, count=len(truth))
        client.send(EndTake())
        heard.wait_for(CheckListening, count=2)
    tones = heard.of(ToneHeard)
    assert [tone.number for tone in tones] == [5] * len(truth)
    for tone, played in zip(tones, truth, strict=True):
        assert abs(cents_between(tone.tone.held.f0_hz, target_hz=played.f0_hz)) < 0.5


def test_a_sound_server_that_dies_is_noticed_and_the_take_is_summed_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard = Heard()
    with pulse_session() as session:
        for name, value in session.environment.items():
            monkeypatch.setenv(name, value)
        with EngineClient(SoundSettings(), heard, log_path=tmp_path / "sound.log") as client:
            heard.wait_for(SoundReady)
            client.send(StartTake(SETTINGS))
            heard.wait_for(PhaseChanged, count=2)
            os.kill(session.server, signal.SIGKILL)
            heard.wait_for(SoundFault)
            heard.wait_for(TakeEnded)
            assert heard.of(SoundFault)[0].fatal
            assert "has stopped" in heard.of(SoundFault)[0].sentence


@once_more_if_busy
def test_a_drone_begins_and_ends_without_a_click_even_when_the_engine_is_closed(
    room: PulseSession, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, value in room.environment.items():
        monkeypatch.setenv(name, value)
    heard = Heard()
    with (
        room.recording(tmp_path / "room.raw"),
        EngineClient(SoundSettings(), heard, log_path=tmp_path / "sound.log") as client,
    ):
        heard.wait_for(SoundReady)
        client.send(StartTake(SETTINGS))
        heard.wait_for(PhaseChanged, count=2)
    sound = np.fromfile(tmp_path / "room.raw", dtype="<f4").astype(float)
    assert np.std(sound) > 0.001
    assert roughest_step_db(sound, 48_000, above_hz=13_000.0) < -100.0


def test_a_microphone_that_is_not_there_is_answered_with_those_that_are(
    room: PulseSession, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, value in room.environment.items():
        monkeypatch.setenv(name, value)
    heard = Heard()
    sound = SoundSettings(microphone="mik")
    with EngineClient(sound, heard, log_path=tmp_path / "sound.log"):
        heard.wait_for(SoundFault)
    assert 'no microphone "mik"' in heard.of(SoundFault)[0].sentence
    assert "mic" in heard.of(SoundFault)[0].what_to_do


@once_more_if_busy
def test_the_sound_check_finds_the_room_as_it_is(room: PulseSession) -> None:
    """Speaker and microphone are one sink here: no loss, one clock, and a buffer's delay."""
    code = (
        "import dataclasses, json; from intonation.engine.messages import SoundSettings; "
        "from intonation.engine.sound_check import check_sound; "
        "print(json.dumps(dataclasses.asdict(check_sound(SoundSettings()))))"
    )
    command = [sys.executable, "-c", code]
    run = subprocess.run(
        command, env=room.environment, capture_output=True, text=True, check=True, timeout=60
    )
    found = json.loads(run.stdout)
    assert found["leak_db"] == pytest.approx(0.0, abs=0.1)
    assert found["clock_ppm"] == pytest.approx(0.0, abs=0.1)
    assert 0.01 < found["round_trip_s"] < 0.4
    assert found["noise_db"] < -100.0
