"""Settings are remembered; a broken file costs nobody a sitting, nor the file."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.instruments.library import INSTRUMENT_NAMES
from intonation.pitch.temperaments import TEMPERAMENTS
from intonation.practice.ear_choices import (
    EAR_DRILLS,
    EAR_FEEDBACK,
    EAR_MINUTES,
    EAR_REGISTERS,
    EAR_VERSIONS,
    EarChoices,
)
from intonation.practice.settings import PracticeSettings
from intonation.store import places
from intonation.store.settings import (
    RememberedSettings,
    read_settings,
    settings_text,
    write_settings,
)
from tests.support.ordinary_user import folder_of_an_ordinary_user

NAMES = st.text(st.characters(codec="utf-8"), min_size=1, max_size=20).map(str.strip).filter(bool)
PRACTICES = st.builds(
    PracticeSettings,
    player=NAMES,
    instrument=st.sampled_from(INSTRUMENT_NAMES),
    a4_hz=st.floats(380.0, 480.0),
    temperament=st.sampled_from(["pure", "own", *TEMPERAMENTS]),
    temperament_file=st.none() | NAMES,
    drone_midi=st.integers(0, 127),
    drone_fifth=st.booleans(),
    drone_octave=st.booleans(),
    loudness_db=st.floats(-60.0, 0.0),
    voice=NAMES,
    temperature_c=st.none() | st.floats(-10.0, 50.0),
)
EARS = st.builds(
    EarChoices,
    drill=st.sampled_from(EAR_DRILLS),
    interval=st.none() | NAMES,
    register=st.sampled_from(EAR_REGISTERS),
    versions=st.sampled_from(EAR_VERSIONS),
    minutes=st.sampled_from(EAR_MINUTES),
    feedback=st.sampled_from(EAR_FEEDBACK),
)
REMEMBERED = st.builds(
    RememberedSettings,
    practice=PRACTICES,
    microphone=st.none() | NAMES,
    output=st.none() | NAMES,
    headphones=st.booleans(),
    keyboard=st.none() | NAMES,
    step_midi=st.none() | st.integers(0, 127),
    sounds=st.sampled_from(["built-in", "fluidsynth", "soundfont"]),
    soundfont=st.none() | NAMES,
    soundfont_bank=st.none() | st.integers(0, 128),
    soundfont_program=st.none() | st.integers(0, 127),
    theme=st.none() | NAMES,
    ear=EARS,
)


@given(remembered=REMEMBERED)
@hypothesis_settings(max_examples=50, deadline=None)
def test_what_was_chosen_is_what_is_remembered(
    remembered: RememberedSettings, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("home") / "settings.toml"
    write_settings(path, remembered)
    read = read_settings(path)
    assert read.complaint is None
    assert read.settings == remembered


def test_a_first_sitting_begins_with_the_usual_settings_and_creates_nothing(
    tmp_path: Path,
) -> None:
    read = read_settings(tmp_path / "home" / "settings.toml")
    assert read.settings == RememberedSettings()
    assert read.complaint is None
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[practice\n", "line 1"),
        ('[practice]\nplayer = "a"\na4_hz = 900.0\n', "line 3"),
        ('[practice]\nplayer = "a"\n\ntemprament = "pure"\n', "line 4"),
        ('[practice]\nplayer = "a"\ninstrument = "trumpet"\n', "line 3"),
        ('[practice]\nplayer = "a"\ntemperament = 7\n', "line 3"),
        ("[ear]\nminutes = 9\n", "line 2"),
        ('[practice]\nplayer = "a"\ndrone_midi = 900\n', "line 3"),
        ('[practice]\nplayer = "a"\ndrone_midi = "B9"\n', "line 3"),
        ('[practice]\nplayer = "a"\ndrone_fifth = "perhaps"\n', "line 3"),
        ('[practice]\nplayer = "a"\nloudness_db = 30.0\n', "line 3"),
        ('[practice]\nplayer = "a"\ntemperature_c = nan\n', "line 3"),
        ('[practice]\nplayer = "a"\n[sound]\nheadphones = 1\n', "line 4"),
        ('[practice]\nplayer = "a"\n[sound]\nsounds = "trumpets"\n', "line 4"),
        ('[practice]\nplayer = "a"\n[sound]\nsoundfont_program = 200\n', "line 4"),
        ('[practice]\nplayer = "a"\n[printer]\n', "line 3"),
        ("practice = 3\n", "line 1"),
        ("\ufeff[practice]\nplayer = 3\n", "line 2"),
    ],
)
def test_a_mistake_is_named_with_its_line_and_the_usual_value_is_used(
    tmp_path: Path, text: str, says: str
) -> None:
    path = tmp_path / "settings.toml"
    path.write_text(text, "utf-8")
    read = read_settings(path)
    assert read.complaint is not None
    assert f"{path}, {says}:" in read.complaint.sentence
    assert "sual" in read.complaint.sentence
    assert path.read_text("utf-8") == text
    player = "a" if 'player = "a"' in text else "player"
    assert read.settings.practice == PracticeSettings(player=player)


@given(content=st.binary(max_size=200))
def test_any_bytes_at_all_are_read_without_a_traceback(
    content: bytes, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.getbasetemp() / "settings.toml"
    path.write_bytes(content)
    assert isinstance(read_settings(path).settings, RememberedSettings)


def test_a_file_with_a_mistake_is_kept_when_new_settings_are_written(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    for text in ("player = [", "nonsense"):
        path.write_text(text)
        write_settings(path, RememberedSettings())
        assert read_settings(path).complaint is None
    assert (tmp_path / "settings.kept-1.toml").read_text() == "player = ["
    assert (tmp_path / "settings.kept-2.toml").read_text() == "nonsense"


def test_a_note_name_may_be_written_for_the_drone(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('[practice]\ndrone_midi = "Bb4"\n')
    assert read_settings(path).settings.practice.drone_midi == 70


def test_the_file_is_toml_for_any_reader() -> None:
    table = tomllib.loads(settings_text(RememberedSettings(microphone='The "best" one')))
    assert table["practice"]["a4_hz"] == 440.0
    assert table["sound"] == {
        "microphone": 'The "best" one',
        "headphones": False,
        "sounds": "built-in",
    }


def test_settings_that_cannot_be_written_are_said_to_be_forgotten() -> None:
    with folder_of_an_ordinary_user() as folder:
        folder.chmod(0o500)
        with pytest.raises(SettingsError, match="forgotten"):
            write_settings(folder / "home" / "settings.toml", RememberedSettings())


def test_one_variable_moves_everything_into_a_folder_of_ones_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(places.HOME_VARIABLE, str(tmp_path))
    assert places.record_path() == tmp_path / "practice.sqlite"
    assert places.settings_path() == tmp_path / "settings.toml"
    assert places.log_folder() == tmp_path
    monkeypatch.delenv(places.HOME_VARIABLE)
    assert places.record_path().name == "practice.sqlite"
    assert tmp_path not in places.record_path().parents


def test_an_instrument_of_ones_own_is_remembered_with_its_size(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    chosen = PracticeSettings(
        instrument="pearwood alto", size="alto", fingering_system="german", a4_hz=415.0
    )
    write_settings(path, RememberedSettings(practice=chosen))
    read = read_settings(path)
    assert (read.settings.practice, read.complaint) == (chosen, None)
    assert read.settings.practice.recorder.lowest_midi == 65


def test_an_instrument_without_a_known_size_is_said_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('[practice]\nplayer = "wren"\ninstrument = "pearwood"\n', "utf-8")
    read = read_settings(path)
    assert (read.settings.practice.player, read.settings.practice.instrument) == ("wren", "alto")
    assert "line 3" in str(read.complaint)
