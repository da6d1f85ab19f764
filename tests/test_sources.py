"""Every number in the data files that ship with the package has a source beside it."""

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import intonation

PACKAGE = Path(intonation.__file__).parent
DATA_FILES = sorted(PACKAGE.glob("*/data/**/*.toml"))


def numbers_without_source(table: dict[str, object], sourced: bool, place: str) -> Iterator[str]:
    sourced = sourced or bool(table.get("source") or table.get("sources"))
    for key, value in table.items():
        yield from _unsourced(value, sourced, f"{place}.{key}")


def _unsourced(value: object, sourced: bool, place: str) -> Iterator[str]:
    if isinstance(value, dict):
        yield from numbers_without_source(value, sourced, place)
    elif isinstance(value, list):
        for number, entry in enumerate(value):
            yield from _unsourced(entry, sourced, f"{place}[{number}]")
    elif isinstance(value, int | float) and not sourced:
        yield place


@pytest.mark.parametrize("path", DATA_FILES, ids=lambda path: path.name)
def test_every_number_in_a_data_file_has_a_source(path: Path) -> None:
    table = tomllib.loads(path.read_text("utf-8"))
    shared = not isinstance(table.get("sources"), dict)
    assert list(numbers_without_source(table if shared else _parts(table), False, path.name)) == []


def _parts(table: dict[str, object]) -> dict[str, object]:
    """Leave a glossary of sources out: it explains keys, it vouches for no number."""
    return {key: value for key, value in table.items() if key != "sources"}


@pytest.mark.parametrize("path", DATA_FILES, ids=lambda path: path.name)
def test_every_named_source_is_explained(path: Path) -> None:
    table = tomllib.loads(path.read_text("utf-8"))
    glossary = table.get("sources")
    if not isinstance(glossary, dict):
        assert str(table.get("source") or table.get("sources") or "").strip()
        return
    assert {key for _, keys in _named(table) for key in keys} <= set(glossary)


def _named(value: object) -> Iterator[tuple[object, list[str]]]:
    if isinstance(value, dict):
        keys = value.get("sources")
        if isinstance(keys, list):
            yield value, keys
        for entry in value.values():
            yield from _named(entry)
    elif isinstance(value, list):
        for entry in value:
            yield from _named(entry)


def test_there_are_data_files_to_check() -> None:
    assert len(DATA_FILES) >= 10
