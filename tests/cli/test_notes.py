"""`intonation notes` lists what was kept, for reading and for a spreadsheet."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.heldnotes.exchange import read_held_notes
from intonation.store import places
from intonation.store.store import Store
from tests.store.test_store import a_note
from tests.support.filled_record import fill

DAY = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home folder in which 30 notes of two players are kept."""
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    with Store(places.record_path()) as store:
        for number in range(30):
            player = "heron" if number % 3 == 0 else "wren"
            note = a_note(midi=65 + number % 5, cents=number - 15.0, player=player)
            store.add_held_note(note, held_at=DAY if number < 20 else DAY.replace(year=2032))
    return tmp_path


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(["notes", *arguments]) == 0
    return capsys.readouterr().out


def test_the_latest_notes_are_listed_last(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = printed(capsys).splitlines()
    assert len(lines) == 22
    assert lines[-1].split()[:1] == ["30"]
    assert "+14.0 sharp" in lines[-1]
    assert max(map(len, lines)) <= 80


def test_csv_has_every_note_and_can_be_read_back(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = read_held_notes(printed(capsys, "--csv"), file_name="notes.csv")
    assert [row.cents for row in rows] == [number - 15.0 for number in range(30)]
    wren = read_held_notes(printed(capsys, "--csv", "--player", "wren"), file_name="notes.csv")
    assert {row.player for row in wren} == {"wren"}
    assert len(wren) == 20
    late = read_held_notes(printed(capsys, "--csv", "--since", "2032-01-01"), file_name="notes.csv")
    assert len(late) == 10
    last = read_held_notes(printed(capsys, "--csv", "--last", "3"), file_name="notes.csv")
    assert [row.event for row in last] == [28, 29, 30]


def test_means_have_every_note_with_its_count(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = printed(capsys, "--means", "--player", "wren").splitlines()[2:]
    assert [line.split()[0] for line in lines] == ["F4", "F#4", "G4", "G#4", "A4"]
    assert sum(int(line.split()[-1]) for line in lines) == 20


def test_nothing_kept_is_said_and_creates_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path / "new"))
    assert "No such note" in printed(capsys)
    assert not (tmp_path / "new").exists()


def test_a_record_that_is_none_is_one_sentence_and_its_spare_is_listed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    places.record_path().write_text("not a record\n" * 9)
    assert main(["notes"]) == 2
    assert "practice.sqlite" in capsys.readouterr().err
    with Store(tmp_path / "practice-2.sqlite") as spare:
        spare.add_held_note(a_note(cents=3.0))
    assert main(["notes"]) == 0
    said = capsys.readouterr()
    assert "practice-2.sqlite" in said.err
    assert "+3.0 sharp" in said.out
    assert "+3.0 sharp" in printed(capsys, "--record", str(tmp_path / "practice-2.sqlite"))


@pytest.mark.parametrize("date", ["yesterday", "2031-02-30"])
def test_a_date_that_is_none_is_one_sentence(
    home: Path, capsys: pytest.CaptureFixture[str], date: str
) -> None:
    assert main(["notes", "--since", date]) == 2
    assert date in capsys.readouterr().err


def test_the_latest_take_is_looked_back_at_without_the_interface(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    assert "Play one, then come back" in printed(capsys, "--look-back")
    with Store(places.record_path()) as store:
        fill(store, sittings=2)
    lines = printed(capsys, "--look-back", "--player", "wren", "--instrument", "alto").splitlines()
    assert lines[0].startswith("2031-02-18")
    assert sum("└┬" in line for line in lines) == 3
    assert any(line.startswith("16  F4, ") for line in lines)
    assert max(map(len, lines)) <= 80
