"""``intonation report`` writes pages and drawings, and says in a sentence why it cannot."""

import sys
from pathlib import Path

import html5lib
import pytest

from intonation.cli.main import main
from intonation.store.store import Store
from tests.support.filled_record import fill


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("record") / "practice.sqlite"
    with Store(path) as store:
        fill(store, sittings=3)
    return path


def report(record: Path, *arguments: object) -> int:
    return main(["report", *map(str, arguments), "--record", str(record)])


@pytest.mark.parametrize("kind", ["session", "player", "instrument", "lesson"])
def test_every_kind_of_report_is_written(
    record: Path, tmp_path: Path, kind: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / f"{kind}.html"
    whose = ("--player", "wren", "--instrument", "alto")
    assert report(record, kind, *whose, "--output", path, "--note", "Bring the tenor.") == 0
    assert "ready to be printed" in capsys.readouterr().out
    html = path.read_text("utf-8")
    html5lib.HTMLParser(strict=True).parse(html)
    assert "Bring the tenor." in html


def test_a_take_alone_and_a_lesson_since_a_day_can_be_asked_for(
    record: Path, tmp_path: Path
) -> None:
    whose = ("--player", "wren", "--instrument", "alto")
    assert report(record, "session", *whose, "--take", 2, "--output", tmp_path / "a.html") == 0
    assert "18 February 2031" in (tmp_path / "a.html").read_text("utf-8")
    since = ("--since", "2031-02-17")
    assert report(record, "lesson", *whose, *since, "--output", tmp_path / "b.html") == 0
    page = (tmp_path / "b.html").read_text("utf-8")
    assert "since 17 February 2031" in page
    assert "32 held notes in 2 sittings" in page


def test_a_plot_alone_leaves_no_page_behind(record: Path, tmp_path: Path) -> None:
    assert report(record, "instrument", "--plot", tmp_path / "notes.svg") == 0
    assert [path.name for path in tmp_path.iterdir()] == ["notes.svg"]
    assert "heron" in (tmp_path / "notes.svg").read_text("utf-8")


def test_one_held_note_can_be_drawn_alone(record: Path, tmp_path: Path) -> None:
    asked = ("--player", "wren", "--instrument", "alto", "--take", 2, "--held-note", 3)
    assert report(record, "session", *asked, "--plot", tmp_path / "note.svg") == 0
    assert "Note 3: C5" in (tmp_path / "note.svg").read_text("utf-8")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("session", "--player", "wren", "--held-note", "99"), "no picture of note 99"),
        (("session", "--player", "nobody"), "intonation players"),
        (("session", "--player", "wren", "--take", "99"), "intonation players"),
        (("instrument", "--instrument", "theorbo"), "There is no instrument"),
        (("player", "--player", "wren", "--output", "page.doc"), "End its name in .html"),
        (("player", "--player", "wren", "--plot", "page.gif"), "End its name in .svg"),
        (("lesson", "--player", "wren", "--since", "Tuesday"), '"Tuesday" is not a date'),
        (("player", "--player", "wren", "--output", "/nowhere/a.html"), "cannot be written"),
    ],
    ids=str,
)
def test_what_cannot_be_done_is_said_with_what_to_do(
    record: Path, arguments: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert report(record, *arguments) == 2
    assert told in capsys.readouterr().err


@pytest.mark.parametrize(
    ("library", "option", "name"),
    [("weasyprint", "--output", "page.pdf"), ("cairosvg", "--plot", "page.png")],
)
def test_without_the_library_that_prints_it_is_said_what_to_install(
    record: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    library: str,
    option: str,
    name: str,
) -> None:
    monkeypatch.setitem(sys.modules, library, None)
    assert report(record, "player", "--player", "wren", option, tmp_path / name) == 2
    assert "pip install 'intonation[print]'" in capsys.readouterr().err
    assert not (tmp_path / name).exists()


def test_a_report_that_cannot_be_finished_leaves_the_old_one(
    record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "page.html").mkdir()
    assert report(record, "player", "--player", "wren", "--output", tmp_path / "page.html") == 2
    assert "cannot be written" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["page.html"]
