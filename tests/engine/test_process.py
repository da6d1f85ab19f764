"""The engine in its own process: it starts, reports, and ends without taking anything along."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from intonation.engine.messages import (
    EndTake,
    EngineClosed,
    SetLoudness,
    SoundCounters,
    SoundFault,
    SoundReady,
    SoundSettings,
    StartTake,
)
from intonation.engine.process import EngineClient
from intonation.practice.events import PhaseChanged, TakeEnded
from intonation.practice.settings import PracticeSettings
from tests.support.waiting import Heard, lives, until

SIMULATED = SoundSettings(simulated=True, headphones=True)


@pytest.fixture
def heard() -> Heard:
    return Heard()


@pytest.fixture
def client(heard: Heard, tmp_path: Path) -> Iterator[EngineClient]:
    with EngineClient(SIMULATED, heard, log_path=tmp_path / "logs" / "sound.log") as client:
        heard.wait_for(SoundReady)
        yield client


def process_id(client: EngineClient) -> int:
    assert client.process_id is not None
    return client.process_id


def test_a_take_is_started_and_ended_from_another_process(
    client: EngineClient, heard: Heard
) -> None:
    client.send(StartTake(PracticeSettings()))
    heard.wait_for(PhaseChanged)
    client.send(EndTake())
    heard.wait_for(TakeEnded)
    assert [event.phase for event in heard.of(PhaseChanged)] == ["your turn", "resting"]


def test_it_reports_again_and_again(heard: Heard, client: EngineClient) -> None:
    heard.wait_for(SoundCounters, count=5)


def test_closing_ends_the_process_and_is_the_last_thing_said(
    heard: Heard, client: EngineClient
) -> None:
    client.close()
    assert isinstance(heard.events[-1], EngineClosed)
    assert not heard.of(SoundFault)
    assert not lives(process_id(client))


def test_closing_twice_or_sending_after_closing_does_no_harm(client: EngineClient) -> None:
    client.close()
    client.close()
    assert not client.send(SetLoudness(-10.0))


def test_an_engine_that_is_killed_is_reported_with_what_to_do(
    heard: Heard, client: EngineClient
) -> None:
    os.kill(process_id(client), signal.SIGKILL)
    heard.wait_for(EngineClosed)
    (fault,) = heard.of(SoundFault)
    assert fault.fatal
    assert "Start the sound again" in fault.what_to_do


def test_an_engine_that_hangs_is_reported_and_can_still_be_closed(
    heard: Heard, tmp_path: Path
) -> None:
    client = EngineClient(SIMULATED, heard, log_path=tmp_path / "sound.log", silent_s=0.6)
    client.start()
    heard.wait_for(SoundReady)
    os.kill(process_id(client), signal.SIGSTOP)
    heard.wait_for(SoundFault)
    assert "has not answered" in heard.of(SoundFault)[-1].sentence
    client.close()
    assert isinstance(heard.events[-1], EngineClosed)
    assert not lives(process_id(client))


def test_no_engine_outlives_an_interface_that_was_killed(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "tests.support.parent_to_be_killed", str(tmp_path / "log")]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as parent:
        assert parent.stdout is not None
        engine = int(parent.stdout.readline())
        assert lives(engine)
        parent.kill()
    assert until(lambda: not lives(engine))


def test_an_interrupt_from_the_keyboard_is_left_to_the_interface(
    heard: Heard, client: EngineClient
) -> None:
    os.kill(process_id(client), signal.SIGINT)
    said = len(heard.of(SoundCounters))
    heard.wait_for(SoundCounters, count=said + 3)
    assert lives(process_id(client))


def test_a_mistake_in_the_settings_of_the_sound_is_said_not_thrown(
    heard: Heard, tmp_path: Path
) -> None:
    sound = SoundSettings(recording=tmp_path / "nothing.wav")
    with EngineClient(sound, heard, log_path=tmp_path / "sound.log"):
        heard.wait_for(SoundFault)
    assert "nothing.wav" in heard.of(SoundFault)[0].sentence


def test_a_log_that_cannot_be_written_is_done_without(heard: Heard, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with EngineClient(SIMULATED, heard, log_path=tmp_path / "file" / "sound.log"):
        heard.wait_for(SoundReady)
