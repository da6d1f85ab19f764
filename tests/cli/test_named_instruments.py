"""Every command knows an instrument by its own name, or by its size, and offers the nearest."""

from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.store.places import record_path
from intonation.store.store import Store
from tests.support.own_instruments import PEARWOOD, SCHOOL, play


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a home whose record has two altos of wren."""
    monkeypatch.setenv("INTONATION_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    with Store(record_path()) as store:
        for instrument in (PEARWOOD, SCHOOL):
            store.instruments.keep(instrument)
            play(store, instrument, cents=(4.0, 6.0))
    return tmp_path


@pytest.mark.parametrize(
    ("command", "told"),
    [
        (("notes", "--csv"), "wren,school alto 3,evening"),
        (("habits", "--player", "wren"), "wren on school alto 3"),
        (("today", "--player", "wren"), "wren on school alto 3"),
        (("players",), "wren"),
        (("report", "instrument"), "report-instrument.html is ready"),
        (("fingerings", "Bb4"), "German"),
        (("ear", "--simulate", "--minutes", "3"), "answers"),
    ],
    ids=lambda value: value[0] if isinstance(value, tuple) else "",
)
def test_a_command_finds_an_instrument_however_its_name_is_typed(
    home: Path, capsys: pytest.CaptureFixture[str], command: tuple[str, ...], told: str
) -> None:
    assert main([*command, "--instrument", "School  ALTO 3"]) == 0
    said = capsys.readouterr().out
    assert told in said
    assert "pearwood" not in said


@pytest.mark.parametrize(
    "command",
    [
        ("notes",),
        ("habits",),
        ("today",),
        ("players",),
        ("report", "instrument"),
        ("fingerings",),
        ("diagnose",),
        ("sheet",),
        ("trial", "list"),
        ("demo",),
        ("ear", "--simulate"),
        ("practise",),
    ],
    ids=lambda command: command[0],
)
def test_an_unknown_name_is_answered_with_the_nearest_ones(
    home: Path, capsys: pytest.CaptureFixture[str], command: tuple[str, ...]
) -> None:
    assert main([*command, "--instrument", "scool alto"]) == 2
    error = capsys.readouterr().err
    assert 'There is no instrument "scool alto". Choose from: school alto 3' in error
