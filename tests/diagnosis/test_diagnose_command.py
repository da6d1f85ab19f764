"""``intonation diagnose`` from a table and from the practice record."""

import csv
import io
import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.heldnotes.exchange import held_notes_csv
from intonation.heldnotes.row import HeldNoteRow
from intonation.store import places
from intonation.store.store import Store
from tests.support.worlds import NATURAL, adjusted, checked


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "check.csv"
    path.write_text(held_notes_csv(checked(400, passes="AB", notes=NATURAL)[0]), "utf-8")
    return path


def printed(capsys: pytest.CaptureFixture[str], *arguments: object) -> str:
    assert main(["diagnose", *map(str, arguments)]) == 0
    return capsys.readouterr().out


def test_the_text_fits_the_terminal_and_says_what_it_rests_on(
    table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = printed(capsys, "--held-notes", table)
    assert max(map(len, text.splitlines())) <= 80
    assert "model estimate" in text
    assert "20 cents" in text


@pytest.mark.parametrize(
    ("kept", "why"),
    [
        (lambda row: row.midi < 70, "at least five are needed"),
        (lambda row: row.midi == 69, "at least five are needed"),
        (lambda row: row.kind != "careful-swell", "no swell with its level is on file"),
    ],
)
def test_what_is_refused_says_why_and_what_to_play(
    table: Path,
    capsys: pytest.CaptureFixture[str],
    kept: Callable[[HeldNoteRow], bool],
    why: str,
) -> None:
    rows = [row for row in checked(400, passes="AB", notes=NATURAL)[0] if kept(row)]
    table.write_text(held_notes_csv(rows), "utf-8")
    text = " ".join(printed(capsys, "--held-notes", table).split())
    assert why in text
    assert "minutes)" in text or "(11 s a note)" in text
    assert "±0" not in text


def test_json_has_every_part_with_its_interval(
    table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    written = json.loads(printed(capsys, "--held-notes", table, "--json"))
    assert written["version"] == 1
    (pair,) = written["pairs"]
    assert len(pair["notes"]) == 15
    note = pair["notes"][0]
    for part in ("total", "instrument", "player", "breath", "habit"):
        value = note[f"{part}_cents"]
        assert value["low"] <= value["mean"] <= value["high"]
    assert sum(note["probabilities"].values()) == pytest.approx(1.0, abs=1e-3)
    assert note["total_cents"]["mean"] == pytest.approx(
        note["instrument_cents"]["mean"] + note["player_cents"]["mean"], abs=0.02
    )


def test_csv_has_a_row_for_every_note(table: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = list(csv.DictReader(io.StringIO(printed(capsys, "--held-notes", table, "--csv"))))
    assert [int(row["midi"]) for row in rows] == list(NATURAL)


def test_the_practice_record_is_read_without_a_table(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    with Store(places.record_path()) as store:
        store.add_held_notes(checked(401, passes="AB", notes=NATURAL)[0])
    assert "P1 on R1" in printed(capsys)
    assert main(["diagnose", "--player", "nobody"]) == 2
    assert "Choose from P1." in capsys.readouterr().err


def test_an_empty_record_is_told_to_play_the_check(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    assert "nothing to diagnose" in printed(capsys, "--player", "wren", "--instrument", "alto")
    assert main(["diagnose", "--compare", "before", "after"]) == 2
    assert "play the instrument check first" in capsys.readouterr().err


def test_sessions_of_two_players_are_not_compared(
    table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = checked(400, passes="AB", notes=NATURAL)[0]
    others = [
        replace(row, player="P2", session="other", event=row.event + len(rows)) for row in rows
    ]
    table.write_text(held_notes_csv(rows + others), "utf-8")
    assert main(["diagnose", "--held-notes", str(table), "--compare", "S1", "other"]) == 2
    assert "one player on one instrument" in capsys.readouterr().err


def test_sessions_are_compared_note_by_note(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = adjusted(402)
    path = tmp_path / "adjusted.csv"
    path.write_text(held_notes_csv(case.rows), "utf-8")
    compared = ["--compare", "off 1", "on 1", "--compare", "off 2", "on 2"]
    written = json.loads(printed(capsys, "--held-notes", path, *compared, "--json"))
    verdicts = {n["midi"]: n["change"] for n in written["pairs"][0]["notes"] if "change" in n}
    assert set(verdicts) == set(case.changes_cents)
    assert set(verdicts.values()) <= {"changed", "unchanged", "cannot tell"}
    # for the text eight notes are enough: those that were compared, without the check on file
    path.write_text(held_notes_csv(r for r in case.rows if r.session != "file"), "utf-8")
    assert "after − before" in printed(capsys, "--held-notes", path, *compared)


def test_a_mistake_in_the_table_is_named_by_row_and_column(
    table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = table.read_text("utf-8").splitlines()
    column = lines[0].split(",").index("cents")
    cells = lines[3].split(",")
    cells[column] = "sharp"
    table.write_text("\n".join([*lines[:3], ",".join(cells), *lines[4:]]), "utf-8")
    assert main(["diagnose", "--held-notes", str(table)]) == 2
    complaint = capsys.readouterr().err
    assert "check.csv, row 4" in complaint
    assert '"cents"' in complaint


def refused(path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    assert main(["diagnose", "--held-notes", str(path)]) == 2
    printed = capsys.readouterr()
    assert not printed.out
    return printed.err


@pytest.mark.parametrize(
    ("spoil", "expected"),
    [
        (lambda text: text.split("\n")[0] + "\n", "a header but no notes"),
        (lambda text: text[:0], "row 1: the table is empty"),
        (lambda text: text.replace(",", ";"), "separated by semicolons"),
        (lambda text: text.replace("3.0,", "huge,", 1), 'column "minutes": "huge"'),
        (lambda text: text.encode("utf-16"), "not a text file in UTF-8"),
        (lambda text: text.replace("P1", "Zoë").encode("latin-1"), "not a text file in UTF-8"),
        (lambda text: text + '"', "this is not CSV text"),
    ],
)
def test_a_table_that_cannot_be_read_is_refused_in_a_sentence(
    table: Path,
    capsys: pytest.CaptureFixture[str],
    spoil: Callable[[str], str | bytes],
    expected: str,
) -> None:
    spoiled = spoil(table.read_text("utf-8"))
    table.write_bytes(spoiled if isinstance(spoiled, bytes) else spoiled.encode())
    complaint = refused(table, capsys)
    assert expected in complaint
    assert "check.csv" in complaint


def test_a_folder_and_a_missing_file_are_refused_by_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for path in (tmp_path, tmp_path / "none.csv"):
        assert f"{path} cannot be read" in refused(path, capsys)


def test_a_name_of_control_characters_leaves_the_terminal_alone(
    table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table.write_text(table.read_text("utf-8").replace("P1", '"P\x1b[31m\n1"'), "utf-8")
    text = printed(capsys, "--held-notes", table)
    assert "P [31m 1 on R1" in text
    assert "\x1b" not in text


@pytest.mark.parametrize(
    ("compare", "expected"), [(("1", "2"), "no session"), (("S1", "S1"), "both before and after")]
)
def test_sessions_that_make_no_sense_are_refused(
    table: Path, capsys: pytest.CaptureFixture[str], compare: tuple[str, str], expected: str
) -> None:
    assert main(["diagnose", "--held-notes", str(table), "--compare", *compare]) == 2
    assert expected in capsys.readouterr().err
