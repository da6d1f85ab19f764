"""The documented tables of an archive are those that are written and read."""

import re
from pathlib import Path

import pytest

from intonation.heldnotes.exchange import COLUMNS
from intonation.interchange.archive_tables import TABLES

PAGE = Path(__file__).parents[2] / "docs" / "archives.md"
ROW = re.compile(r"^\| `(?P<table>[\w-]+)\.csv` \| (?P<columns>.*) \|$", re.MULTILINE)


def documented() -> dict[str, list[str]]:
    found = {row["table"]: row["columns"] for row in ROW.finditer(PAGE.read_text("utf-8"))}
    named = {table: re.sub(r": .*", "", columns) for table, columns in found.items()}
    lists = {table: re.split(r", (?:then )?", columns) for table, columns in named.items()}
    linked = lists["held-notes"]
    return lists | {"held-notes": [*COLUMNS, *linked[1:]]}


def test_every_table_and_column_is_documented_in_its_order() -> None:
    assert documented() == {name: list(table.columns) for name, table in TABLES.items()}


@pytest.mark.parametrize("name", TABLES)
def test_every_table_stands_after_those_that_it_refers_to(name: str) -> None:
    before = list(TABLES)[: list(TABLES).index(name)]
    assert set(TABLES[name].refers.values()) <= set(before)
    assert TABLES[name].required <= set(TABLES[name].columns)


@pytest.mark.parametrize("name", TABLES)
def test_the_example_in_a_complaint_is_itself_accepted(name: str) -> None:
    for column in TABLES[name].columns.values():
        column.read(column.example)
