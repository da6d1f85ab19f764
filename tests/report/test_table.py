"""Tables can be read at a glance: aligned, with real minus signs, and never a minus zero."""

import pytest

from intonation.report.cells import clock, deviation, number, signed
from intonation.report.findings import Finding, all_well, finding_lines
from intonation.report.table import Column, table_lines


def test_numbers_stand_flush_right_and_words_flush_left() -> None:
    columns = (Column("note", numeric=False), Column("cents"))
    assert list(table_lines(columns, [("A4", "8.4"), ("Bb5", "−12.0")])) == [
        "note  cents",
        "───────────",
        "A4      8.4",
        "Bb5   −12.0",
    ]


def test_a_table_without_rows_is_its_heading() -> None:
    assert list(table_lines((Column("note"),), [])) == ["note", "────"]


@pytest.mark.parametrize(
    ("cents", "reads"),
    [(8.44, "+8.4 sharp"), (-8.44, "−8.4 flat "), (0.04, "0.0 in tune"), (-0.04, "0.0 in tune")],
)
def test_a_deviation_has_sign_and_word_and_no_minus_zero(cents: float, reads: str) -> None:
    assert deviation(cents) == reads


def test_what_is_unknown_is_a_dash() -> None:
    assert number(None) == "–"
    assert signed(None) == "–"
    assert signed(-0.01) == "0.0"


@pytest.mark.parametrize(
    ("seconds", "reads"), [(0.0, "0:00.0"), (59.96, "1:00.0"), (3723.44, "62:03.4")]
)
def test_a_time_is_minutes_and_seconds(seconds: float, reads: str) -> None:
    assert clock(seconds) == reads


def test_findings_say_what_to_do_and_what_they_come_to() -> None:
    missing = Finding("microphone", "There is none.", "Plug one in.")
    lines = list(finding_lines([Finding("settings", "In order."), missing]))
    assert lines[0] == "settings: well"
    assert "    Plug one in." in lines
    assert lines[-1] == "To look at: microphone."
    assert not all_well([missing])


def test_a_command_to_be_copied_is_never_broken_over_two_lines() -> None:
    path = "/a-very-long-folder-name" * 5
    lines = list(finding_lines([Finding("record", f"It lies in {path} as always.")]))
    assert any(path in line for line in lines)
