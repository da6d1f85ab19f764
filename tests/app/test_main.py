"""The interface as it is started, in a real terminal, with its engine in a process of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from intonation.app.main import run_app
from intonation.errors import SetupError
from intonation.practice.settings import PracticeSettings
from intonation.store.settings import RememberedSettings, read_settings, write_settings
from intonation.store.store import Store

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs a pseudo-terminal")

START = """
import sys
from intonation.app.main import run_app
from intonation.engine.messages import SoundSettings
sys.exit(run_app(sound=SoundSettings(simulated=True, headphones=True)))
"""


def test_it_opens_changes_a_choice_and_leaves(tmp_path: Path) -> None:
    from tests.support.terminal import Terminal

    with Terminal(START, home=tmp_path) as terminal:
        assert terminal.shows("Welcome")
        terminal.type("x")
        assert terminal.shows("Concert pitch")
        terminal.type("\x1b[B\x1b[C")
        assert terminal.shows("tenor")
        terminal.type("q")
        assert terminal.wait() == 0
    remembered = read_settings(tmp_path / "settings.toml")
    assert remembered.settings.practice.instrument == "tenor"
    assert remembered.complaint is None


def test_every_note_before_a_crash_is_in_the_record(tmp_path: Path) -> None:
    from tests.support.terminal import Terminal

    record = tmp_path / "practice.sqlite"
    write_settings(tmp_path / "settings.toml", RememberedSettings())
    with Terminal(START, home=tmp_path) as terminal:
        assert terminal.shows("Concert pitch")
        terminal.type(" ")
        assert terminal.shows("Target: the")
        terminal.kill()
    with Store(record) as store:
        (row,) = store.held_notes()
        assert row.kind == "matched"
        assert store.takes()[0].held_notes == 1


def test_a_home_that_cannot_be_written_is_said_and_the_page_opens(tmp_path: Path) -> None:
    from tests.support.terminal import Terminal

    home = tmp_path / "home"
    home.write_text("a file where the folder should be")
    with Terminal(START, home=home) as terminal:
        assert terminal.shows("Practice goes on, but its notes are lost")
        terminal.type("x")
        assert terminal.shows("Concert pitch")
        terminal.type(" ")
        assert terminal.shows("hold a note against the drone")
        terminal.type("q")
        assert terminal.wait() == 0


def test_a_voice_that_does_not_exist_is_said_and_replaced(tmp_path: Path) -> None:
    from tests.support.terminal import Terminal

    practice = PracticeSettings(voice="trumpet")
    write_settings(tmp_path / "settings.toml", RememberedSettings(practice=practice))
    with Terminal(START, home=tmp_path) as terminal:
        assert terminal.shows('no reference voice "trumpet"')
        assert terminal.shows("principal")
        terminal.type("q")
        assert terminal.wait() == 0


def test_a_temperament_file_that_has_gone_is_said_and_equal_temperament_used(
    tmp_path: Path,
) -> None:
    from tests.support.terminal import Terminal

    practice = PracticeSettings(temperament="own", temperament_file=str(tmp_path / "hall.toml"))
    write_settings(tmp_path / "settings.toml", RememberedSettings(practice=practice))
    with Terminal(START, home=tmp_path) as terminal:
        assert terminal.shows("Equal temperament is used")
        assert terminal.shows("equal temperament")
        terminal.type("q")
        assert terminal.wait() == 0


def test_without_a_terminal_there_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(SetupError, match="needs a terminal"):
        run_app()


def test_the_program_loads_no_numerical_or_device_library_that_it_does_not_draw_with() -> None:
    code = "import sys, intonation.app.application\nprint(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert {"scipy", "sounddevice", "soundfile", "fluidsynth", "mido"}.isdisjoint(
        run.stdout.split()
    )
