"""`intonation demo` works wherever Python and numpy do, and tells the truth about itself."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from intonation.cli.demonstration import NOTES, demonstrated
from intonation.cli.main import main
from intonation.practice.settings import PracticeSettings
from intonation.report.demonstration import Demonstration, demonstration_lines

WITHOUT_LIBRARIES = """
import sys
for name in ("soundfile", "sounddevice", "fluidsynth", "mido", "textual", "scipy", "platformdirs"):
    sys.modules[name] = None
from intonation.cli.main import main
sys.exit(main(["demo"]))
"""


@pytest.fixture(scope="module")
def demonstration() -> Demonstration:
    """The demonstration as it is shown to everyone."""
    return demonstrated(PracticeSettings(player="wren"), name="wren", seed=7)


def test_it_needs_no_sound_library_no_device_no_terminal_and_no_home(tmp_path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-c", WITHOUT_LIBRARIES],
        capture_output=True,
        encoding="utf-8",
        cwd=tmp_path,
        env={"PATH": os.defpath, "PYTHONUTF8": "1"},
        check=False,
    )
    assert run.stderr == ""
    assert run.returncode == 0
    assert "Now you" in run.stdout
    assert list(tmp_path.iterdir()) == []


def test_every_note_played_is_scored_and_kept_and_none_is_invented(
    demonstration: Demonstration,
) -> None:
    assert demonstration.played == NOTES
    assert len(demonstration.notes) == NOTES
    assert demonstration.kept == NOTES
    assert len(demonstration.errors_cents) == NOTES


def test_the_scores_lie_within_half_a_cent_of_the_truth_while_the_drone_sounds(
    demonstration: Demonstration,
) -> None:
    assert max(map(abs, demonstration.errors_cents)) < 0.5


def test_the_story_has_score_advice_summary_and_caution_and_fits_the_terminal(
    demonstration: Demonstration,
) -> None:
    lines = list(demonstration_lines(demonstration))
    story = "\n".join(lines)
    assert max(map(len, lines)) <= 80
    for words in ("Target:", "cents", "Next:", "listening was off by", "light-headed"):
        assert words in story


def test_the_same_seed_tells_the_same_story(demonstration: Demonstration) -> None:
    again = demonstrated(PracticeSettings(player="wren"), name="wren", seed=7)
    assert list(demonstration_lines(again)) == list(demonstration_lines(demonstration))


def test_a_temperament_of_ones_own_can_be_demonstrated(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "hall.toml"
    own.write_text('[fifths]\nC-G = "1/4"\n')
    assert main(["demo", "--temperament", str(own)]) == 0
    assert "Tuning: hall." in capsys.readouterr().out
    own.write_text('[fifths]\nC-G = "a quarter"\n')
    assert main(["demo", "--temperament", str(own)]) == 2
    assert "line 2" in capsys.readouterr().err
