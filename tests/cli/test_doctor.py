"""`intonation doctor` and `devices` say what is there, what is missing and what to do."""

from pathlib import Path

import pytest

from tests.cli.running import intonation
from tests.support.pulse import pulse_session, what_is_missing

MISSING = what_is_missing()


def test_every_part_is_looked_at_and_nothing_is_created(tmp_path: Path) -> None:
    run = intonation("doctor", home=tmp_path / "home")
    assert run.stderr == ""
    for part in ("PortAudio", "libsndfile", "FluidSynth", "microphone", "settings", "record"):
        assert part in run.stdout
    assert not (tmp_path / "home").exists()


@pytest.mark.parametrize("file", ["settings.toml", "practice.sqlite"])
def test_a_broken_file_is_named_with_what_to_do(tmp_path: Path, file: str) -> None:
    (tmp_path / file).write_text("= not what it should be\n" * 5)
    run = intonation("doctor", home=tmp_path)
    assert run.returncode == 1
    assert run.stderr == ""
    assert str(tmp_path / file) in run.stdout
    assert "look at this" in run.stdout


def test_a_device_that_is_not_there_is_named(tmp_path: Path) -> None:
    run = intonation("doctor", "--microphone", "gramophone", home=tmp_path)
    assert run.returncode == 1
    assert "To look at: " in run.stdout


@pytest.mark.audio
@pytest.mark.skipif(MISSING is not None, reason=str(MISSING))
def test_the_microphone_hears_what_the_output_plays(tmp_path: Path) -> None:
    with pulse_session() as session:
        run = intonation("doctor", "--sound", home=tmp_path, **session.environment)
        devices = intonation("devices", home=tmp_path, **session.environment)
    assert "reaches the microphone at 0 dB" in run.stdout
    assert devices.returncode == 0
    assert "default" in devices.stdout
