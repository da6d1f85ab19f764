"""``intonation tunings`` gives every temperament to people and to programs."""

import json
from pathlib import Path

import mido
import pytest

from intonation.cli.main import main


def test_the_json_has_the_documented_form(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tunings", "--json", "--a4", "415"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["version"], told["a4_hz"]) == (1, 415.0)
    by_name = {each["name"]: each for each in told["temperaments"]}
    assert list(by_name) == [
        "equal", "pythagorean", "quarter-comma-meantone", "sixth-comma-meantone", "kirnberger-3",
        "werckmeister-3", "vallotti", "young-1", "young-2", "just",
    ]  # fmt: skip
    assert all(len(each["cents_from_c"]) == 12 for each in by_name.values())
    assert all(each["cents_from_equal"][9] == 0 for each in by_name.values())
    assert all(each["hz"]["A4"] == 415.0 for each in by_name.values())
    assert all(each["definition"] and each["source"] for each in by_name.values())


def test_c4_in_vallotti_is_as_high_as_the_harpsichord_tuners_have_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    main(["tunings", "vallotti", "--json"])
    entry = json.loads(capsys.readouterr().out)["temperaments"][0]
    # C is 5.87 cents above equal temperament when A is the concert pitch (common practice).
    assert entry["hz"]["C4"] == pytest.approx(261.6256 * 2 ** (5.865 / 1200), abs=1e-3)


def test_a_temperament_is_written_for_a_keyboard_as_the_midi_standard_has_it(
    tmp_path: Path,
) -> None:
    path = tmp_path / "vallotti.syx"
    assert main(["tunings", "vallotti", "--a4", "415", "--midi", str(path)]) == 0
    (message,) = mido.read_syx_file(str(path))
    data = bytes(message.data)
    # MIDI 1.0 Detailed Specification v96.1, MIDI Tuning: header, name, three bytes to a key
    assert data[:5] == bytes.fromhex("7E 7F 08 01 00")
    assert data[5:21] == b"vallotti        "
    key, high, low = data[21 + 3 * 69 : 24 + 3 * 69]
    semitones = key + (128 * high + low) / 16384
    assert 440.0 * 2 ** ((semitones - 69) / 12) == pytest.approx(415.0, abs=0.002)


def test_only_one_temperament_can_be_written_for_a_keyboard(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert main(["tunings", "--midi", str(tmp_path / "all.syx")]) == 2
    assert "Name one temperament" in capsys.readouterr().err
    assert main(["tunings", "just", "--midi", str(tmp_path / "nowhere" / "just.syx")]) == 2
    assert "cannot be written (No such file" in capsys.readouterr().err


def test_the_table_fits_a_terminal_and_names_its_sources(
    capsys: pytest.CaptureFixture[str],
) -> None:
    main(["tunings"])
    lines = capsys.readouterr().out.splitlines()
    assert all(len(line) <= 80 for line in lines)
    assert sum(line.strip().startswith("Source:") for line in lines) == 10


def test_a_temperament_of_ones_own_stands_beside_the_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.toml"
    own.write_text('title = "My organ"\n[fifths]\nC-G = "1/6"\n', encoding="utf-8")
    assert main(["tunings", "equal", "--file", str(own), "--json"]) == 0
    names = [t["title"] for t in json.loads(capsys.readouterr().out)["temperaments"]]
    assert names == ["Equal temperament", "My organ"]


@pytest.mark.parametrize(
    "content",
    [b"\xff\xfe\x00", b"[fifths]\nC-X = 1\n", b"#" * 3_000_000],
    ids=["not text", "no fifth", "huge"],
)
def test_a_file_that_is_no_temperament_gives_one_sentence(
    content: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.toml"
    own.write_bytes(content)
    assert main(["tunings", "--file", str(own)]) == 2
    said = capsys.readouterr()
    assert not said.out
    assert "own.toml" in said.err
    assert len(said.err.splitlines()) == 1
