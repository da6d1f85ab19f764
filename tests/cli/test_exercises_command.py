"""``intonation exercises`` lists, shows, checks and imports."""

from dataclasses import replace
from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.exercise.library import exercise_named, exercise_names
from intonation.store import places
from intonation.store.own_exercises import keep_exercise
from tests.support.music_samples import STANDARD_MIDI_EXAMPLE, lead_sheet


def test_every_exercise_is_listed_within_the_width_of_a_terminal(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["exercises"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert {line.split()[0] for line in lines if line} >= set(exercise_names())
    assert all(len(line) <= 80 for line in lines)


def test_an_exercise_shows_what_to_listen_for_and_what_to_play(
    capsys: pytest.CaptureFixture[str],
) -> None:
    main(["exercises", "show", "greensleeves"])
    shown = capsys.readouterr().out
    assert "C natural and C sharp alternate" in shown
    assert "F5:2 G5 A5:1.5" in shown
    assert "Dm:6 C:6" in shown


def test_a_check_names_every_mistake_of_every_file_and_praises_the_good_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text('title="a"\nkind="melody"\nlisten="b"\n[[phrase]]\nnotes="A5 rest"\n')
    bad.write_text('title="a"\nkind="melodie"\nlisten="b"\n[[phrase]]\nnotes="A5 X5"\n')
    assert main(["exercises", "check", str(good), str(bad)]) == 2
    said = capsys.readouterr()
    assert "good.toml is in order: 1 phrases, 1 notes." in said.out
    assert [line.split("bad.toml, ")[1].split(":")[0] for line in said.err.splitlines()] == [
        "line 2",
        "line 5",
    ]


@pytest.mark.parametrize(
    ("name", "content"), [("tune.mid", STANDARD_MIDI_EXAMPLE), ("tune.musicxml", lead_sheet())]
)
def test_an_imported_file_is_an_exercise_that_passes_the_check(
    name: str, content: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    music, output = tmp_path / name, tmp_path / "mine.toml"
    music.write_bytes(content)
    assert main(["exercises", "import", str(music), "--output", str(output)]) == 0
    assert main(["exercises", "check", str(output)]) == 0
    assert main(["exercises", "show", str(output)]) == 0
    assert "Imported from" in capsys.readouterr().out


def test_a_file_that_exists_is_never_overwritten(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    music, output = tmp_path / "tune.mid", tmp_path / "mine.toml"
    music.write_bytes(STANDARD_MIDI_EXAMPLE)
    output.write_text("work of an evening")
    assert main(["exercises", "import", str(music), "--output", str(output)]) == 2
    assert output.read_text() == "work of an evening"
    assert "left as it is" in capsys.readouterr().err


def test_an_exercise_that_is_not_there_is_answered_with_the_nearest(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["exercises", "show", "inspruck"]) == 2
    assert "innsbruck" in capsys.readouterr().err


def test_exercises_of_ones_own_are_listed_and_known_by_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    own = replace(exercise_named("frere-jacques"), name="garden", title="In the garden")
    keep_exercise(own, folder=places.own_exercises_folder())
    (places.own_exercises_folder() / "bad.toml").write_text("titel = 3\n")
    assert main(["exercises"]) == 0
    said = capsys.readouterr()
    assert "garden In the garden" in " ".join(said.out.split())
    assert "bad.toml, line 1" in said.err
    assert main(["exercises", "show", "garden"]) == 0
    assert "In the garden" in capsys.readouterr().out
