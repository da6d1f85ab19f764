"""From the shell: what is wrong, what to try, the trial, its proof, the sheet and the consort."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.heldnotes.exchange import held_notes_csv
from intonation.store.store import Store
from tests.support.faulty_alto import NAME, faulty_alto

YESTERDAY = datetime(2026, 1, 14, 19, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return checked_record(tmp_path_factory.mktemp("home") / "practice.sqlite")


def checked_record(path: Path) -> Path:
    """Return a record with a check of the faulty alto, whose size it does not know."""
    with Store(path) as store:
        for row in faulty_alto(3, wide_cents=24.0).check("first day", "AB"):
            store.add_held_note(row, held_at=YESTERDAY)
    return path


def said(capsys: pytest.CaptureFixture[str], *typed: object) -> str:
    assert main([str(word) for word in typed]) == 0
    return " ".join(capsys.readouterr().out.split())


def complaint(capsys: pytest.CaptureFixture[str], *typed: object) -> str:
    assert main([str(word) for word in typed]) == 2
    return capsys.readouterr().err


def test_a_trial_goes_from_proposal_to_undoing(
    record: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ("--record", record, "--size", "alto")
    assert "octaves too wide" in said(capsys, "trial", "propose", *at)
    assert "This can be undone." in said(capsys, "trial", "predict", *at, "--option", 1)
    logged = said(capsys, "trial", "log", *at, "--tape", "4=0.3", "--note", "blue tape")
    assert "intonation trial compare 1" in logged
    listed = said(capsys, "trial", "list", *at)
    assert "Tape over the upper edge of hole 4" in listed
    assert "blue tape" in listed
    assert "Nothing to compare yet." in said(capsys, "trial", "compare", 1, *at)
    assert "Undone" in said(capsys, "trial", "undo", 1, *at)
    assert "does not stand" in complaint(capsys, "trial", "undo", 1, *at)


def test_irreversible_work_is_shown_as_such_before_anything_is_cut(
    record: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = record.with_name("table.csv")
    table.write_text(held_notes_csv(faulty_alto(3).check("first day", "AB")), "utf-8")
    at = ("--held-notes", table, "--size", "alto")
    shown = said(capsys, "trial", "predict", *at, "--enlarge", "4=0.2")
    assert "This CANNOT be undone: for a qualified maker." in shown
    assert "cut away from the hand" in shown
    assert "0.05 to 0.1 mm at a time" in shown
    assert "not in a table" in complaint(capsys, "trial", "log", *at)


@pytest.mark.parametrize(
    ("option", "named"),
    [
        (("--tape", "9=0.3"), "no hole"),
        (("--tape", "4"), "4=0.3"),
        (("--pull", "9"), "up to 2 mm"),
        (("--line", "82-999=0.1"), "ends at 431 mm"),
    ],
)
def test_work_that_makes_no_sense_is_refused_with_what_would(
    record: Path, capsys: pytest.CaptureFixture[str], option: tuple[str, ...], named: str
) -> None:
    table = record.with_name("short.csv")
    table.write_text(held_notes_csv(faulty_alto(3).check("first day", "A")), "utf-8")
    at = ("--held-notes", table, "--size", "alto")
    assert named in complaint(capsys, "trial", "predict", *at, *option)


def test_the_makers_sheet_is_written_as_one_page(
    record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = tmp_path / "sheet.html"
    table = record.with_name("sheet.csv")
    table.write_text(held_notes_csv(faulty_alto(3).check("first day", "A")), "utf-8")
    at = ("--held-notes", table, "--size", "alto")
    assert "ready to be printed" in said(capsys, "sheet", *at, "--output", page)
    assert NAME in page.read_text("utf-8")
    assert "cannot be written" in complaint(
        capsys, "sheet", *at, "--output", tmp_path / "nowhere" / "sheet.html"
    )


def test_a_consort_is_told_its_pitch_and_pulls(
    record: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = said(capsys, "consort", f"{NAME}:alto", "--record", record)
    assert "Tune to A4 = 4" in told
    assert "leave it as it is" in told
    assert "pear tenor" in complaint(capsys, "consort", "pear tenor:tenor", "--record", record)


def test_an_instrument_of_unknown_size_asks_for_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = checked_record(tmp_path / "practice.sqlite")
    assert "--size alto" in complaint(capsys, "trial", "propose", "--record", record)
