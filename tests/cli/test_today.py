"""`intonation today` plans practice from the record, for reading and for other programs."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.store import places
from intonation.store.store import Store
from tests.store.test_store import a_note
from tests.support.long_record import PLAYER


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    return tmp_path


def keep(cents: dict[int, float], *, days_ago: int) -> None:
    """Keep six notes of each pitch, held so long ago."""
    held_at = datetime.now(UTC) - timedelta(days=days_ago)
    with Store(places.record_path()) as store:
        for midi, value in cents.items():
            for again in range(6):
                note = a_note(midi=midi, cents=value + 0.1 * again, player=PLAYER)
                store.add_held_note(note, held_at=held_at)


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(["today", "--player", PLAYER, "--instrument", "alto", *arguments]) == 0
    return capsys.readouterr().out


def test_the_worst_note_is_in_the_plan_with_its_reason(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep({69: 1.0, 72: -2.0, 76: 0.0, 81: 22.0}, days_ago=1)
    page = printed(capsys)
    assert page.splitlines()[0] == "wren on alto, 20 min"
    assert "2. Hold A5 against a drone, 2 min" in page
    assert "cents sharp." in page
    assert "You last played" not in page


def test_after_a_long_pause_it_says_so(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    keep({69: 1.0, 72: -2.0, 76: 0.0, 81: 22.0}, days_ago=21)
    assert "You last played 21 days ago: begin gently" in " ".join(printed(capsys).split())


def test_json_has_every_step_and_its_minutes(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep({69: 1.0, 72: -2.0, 76: 0.0, 81: 22.0}, days_ago=3)
    written = json.loads(printed(capsys, "--json", "--minutes", "30"))
    assert (written["version"], written["days_away"]) == (1, 3)
    assert sum(step["minutes"] for step in written["steps"]) == 30
    assert all(step["what"] and step["why"] for step in written["steps"])
    assert {"exercise", "midi", "drill"} <= {key for step in written["steps"] for key in step}


def test_on_an_empty_record_there_is_a_plan_and_nothing_is_written(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "Too little is on record yet" in printed(capsys, "--minutes", "10")
    assert not list(home.iterdir())


def test_an_instrument_that_does_not_exist_is_explained(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["today", "--instrument", "trebel"]) == 2
    assert "treble" in capsys.readouterr().err
