"""``intonation archive`` and ``intonation players``: a teacher's record of several pupils."""

from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.store.store import Store
from tests.support.archives import full_record


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("record") / "practice.sqlite"
    with Store(path) as store:
        full_record(store)
    return path


def archive(*arguments: object, record: Path) -> int:
    return main(["archive", *map(str, arguments), "--record", str(record)])


def test_a_pupils_archive_is_merged_into_the_teachers_record(
    record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    teachers, wren, heron = (tmp_path / name for name in ("t.sqlite", "wren.zip", "heron.zip"))
    assert archive("export", "--player", "wren", "--output", wren, record=record) == 0
    assert "56 held notes, 4 sittings, 4 takes, 1 instrument check" in capsys.readouterr().out
    assert archive("export", "--player", "heron", "--output", heron, record=record) == 0
    assert archive("import", wren, heron, record=teachers) == 0
    told = capsys.readouterr().out
    assert "Added for wren: 56 held notes, 4 sittings, 4 takes" in told
    assert "for heron" in told
    assert archive("import", wren, record=teachers) == 0
    assert "Everything in it was here already" in capsys.readouterr().out
    assert main(["players", "--record", str(teachers)]) == 0
    listed = capsys.readouterr().out
    assert "heron   alto" in listed
    assert "wren    tenor" in listed


def test_an_archive_takes_the_players_name_where_none_is_given(
    record: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert archive("export", "--player", "heron", record=record) == 0
    assert [path.name for path in tmp_path.iterdir()] == ["heron.zip"]


def test_a_pupil_gets_another_name_on_the_way_in(
    record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wren, teachers = tmp_path / "wren.zip", tmp_path / "t.sqlite"
    archive("export", "--player", "wren", "--output", wren, record=record)
    assert archive("import", wren, "--as", "wren, Tuesday", record=teachers) == 0
    capsys.readouterr()
    assert main(["players", "--record", str(teachers)]) == 0
    assert "wren, Tuesday" in capsys.readouterr().out


def test_players_are_compared_note_by_note(
    record: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["players", "--instrument", "alto", "--record", str(record)]) == 0
    lines = capsys.readouterr().out.splitlines()
    heading = lines[0].split()
    assert heading == ["note", "wren", "heron", "apart"]
    (top,) = [line.split() for line in lines if line.startswith("D6")]
    wren, heron, apart = (float(cell.replace("−", "-")) for cell in top[1:])
    assert wren > heron
    assert apart == pytest.approx(wren - heron, abs=0.11)
    assert any(line.startswith("off by") for line in lines)
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("archive", "import"), "nothing to import"),
        (("archive", "import", "nowhere.zip"), "nowhere.zip cannot be read"),
        (("archive", "export", "wren.zip"), "takes no files"),
        (("archive", "export", "--player", "nobody"), 'Nothing is kept of "nobody"'),
        (("players", "--instrument", "theorbo"), 'There is no instrument "theorbo"'),
        (("players", "--instrument", "contrabass"), 'Nobody has played "contrabass" yet'),
    ],
    ids=str,
)
def test_what_cannot_be_done_is_said_with_what_to_do(
    record: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: tuple[str, ...],
    told: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main([*arguments, "--record", str(record)]) == 2
    assert told in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_without_anybody_the_list_says_how_one_comes_onto_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["players", "--record", str(tmp_path / "none.sqlite")]) == 0
    assert "while you practise" in capsys.readouterr().out
