"""`intonation habits` says where each note usually lies, for reading and for other programs."""

import csv
import io
import json
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from intonation.cli.main import main
from intonation.store import places
from intonation.store.store import Store
from tests.support.faulty_alto import faulty_alto
from tests.support.habitual_player import Practice, TrueHabits, record_of
from tests.support.long_record import INSTRUMENT, PLAYER, keep_record

DAY = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)
USUAL = (*[0.0] * 16, 18.0, *[0.0] * 10)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home in which an invented player has practised for six weeks; A5 lies sharp."""
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    notes = record_of(
        TrueHabits(usual=USUAL, in_melodies=8.0),
        np.random.default_rng(1),
        Practice(sittings=16, days=40, notes=60),
    )
    with Store(places.record_path()) as store:
        keep_record(store, notes, last_day=DAY)
    return tmp_path


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    asked = ("habits", "--player", PLAYER, "--instrument", INSTRUMENT, *arguments)
    assert main(asked) == 0
    return capsys.readouterr().out


def test_the_sharp_note_is_called_sharp_within_eighty_columns(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = printed(capsys).splitlines()
    (row,) = (line for line in lines if line.startswith("A5"))
    assert row.split()[2] == "sharp"
    assert "14 Mar 2031" in lines[1]
    assert any(line.startswith("In melodies you play a note") for line in lines)
    assert max(map(len, lines)) <= 80


def test_json_and_csv_say_the_same(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written = json.loads(printed(capsys, "--json"))
    rows = list(csv.DictReader(io.StringIO(printed(capsys, "--csv"))))
    assert (written["version"], written["player"], len(written["notes"])) == (1, PLAYER, 27)
    assert len(rows) == 27
    for note, row in zip(written["notes"], rows, strict=True):
        assert (note["name"], note["held_notes"]) == (row["name"], int(row["held_notes"]))
        assert note["usual_cents"]["mean"] == float(row["usual_cents"])
        assert note["contexts"]["louder_cents_per_6_db"]["low"] == float(
            row["louder_cents_per_6_db_low"]
        )


def test_a_check_on_record_says_whose_a_note_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    alto = faulty_alto(3)
    with Store(places.record_path()) as store:
        for row in alto.check("first day", "AB"):
            store.add_held_note(row, held_at=DAY)
        (sitting,) = store.sessions()
    assert main(["habits", "--player", sitting.player, "--instrument", sitting.instrument]) == 0
    page = capsys.readouterr().out
    assert "Whose it is, by the latest instrument checks" in page
    assert "model estimate" in page


def test_who_has_not_played_is_told_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    assert "Play a take or two" in " ".join(printed(capsys).split())
    assert not places.record_path().exists()
