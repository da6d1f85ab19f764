from pathlib import Path

import pytest
from textual.pilot import Pilot

from intonation.app.printing.temperaments import temperament_in_full, temperament_table
from intonation.app.widgets.typed_value import TypedValue
from intonation.engine.messages import StartTake
from intonation.pitch.cents import cents_between
from intonation.pitch.temperaments import TEMPERAMENTS
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import tuning_of
from tests.app.conftest import Stand, screen_text, settled

_WERCKMEISTER = ["+12", "+2", "+4", "+6", "+2", "+10", "0", "+8", "+4", "0", "+8", "+4"]


async def test_the_marked_temperament_is_taken_into_practice(stand: Stand) -> None:
    async with stand.opened(PracticeSettings(temperament="pythagorean")) as pilot:
        await pilot.press("t", "down", "enter")
        await settled(pilot)
        assert stand.remembered[-1].practice.temperament == "quarter-comma-meantone"
        assert "quarter-comma meantone" in screen_text(pilot)


async def test_leaving_the_table_changes_nothing(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("t", "down", "escape")
        await settled(pilot)
        assert pilot.app.settings == PracticeSettings()


async def test_the_wolf_and_the_tonic_of_just_intonation_can_be_put_elsewhere(
    stand: Stand,
) -> None:
    async with stand.opened(PracticeSettings(temperament="quarter-comma-meantone")) as pilot:
        await pilot.press("t", "left")
        assert "wolf C#-Ab" in screen_text(pilot)
        await pilot.press("enter")
        chosen = pilot.app.settings.temperament
        assert chosen == "quarter-comma-meantone-wolf-C#-Ab"
        await pilot.press("t")
        await settled(pilot)
        assert "· Quarter" not in screen_text(pilot)
        assert "▸ Quarter-comma meantone" in screen_text(pilot)
        await pilot.press("down", "left", "right", "right", "enter")
        assert pilot.app.settings.temperament == "sixth-comma-meantone-wolf-D#-Bb"


async def test_just_intonation_can_stand_on_f(stand: Stand) -> None:
    async with stand.opened(PracticeSettings(temperament="just")) as pilot:
        await pilot.press("t", *["right"] * 5, "enter")
        assert pilot.app.settings.temperament == "just-on-F"


OWN_FILE = 'name = "hall"\ntitle = "The organ of the hall"\n[fifths]\nC-G = "1/4"\n'


async def enter_file(pilot: Pilot[int], path: Path) -> None:
    await pilot.press("t", "o")
    pilot.app.screen.query_one(TypedValue).value = str(path)
    await pilot.press("enter")


async def test_a_temperament_of_ones_own_is_read_listed_used_and_remembered(
    stand: Stand, tmp_path: Path
) -> None:
    own = tmp_path / "hall.toml"
    own.write_text(OWN_FILE)
    async with stand.opened() as pilot:
        await enter_file(pilot, own)
        await settled(pilot)
        assert "▸ The organ of the hall" in screen_text(pilot)
        await pilot.press("enter", "space")
        await settled(pilot)
        command = stand.engine.commands[-1]
        assert isinstance(command, StartTake)
        # two pure fifths (701.955 cents each) below A, G lies 3.910 cents below the equal-tempered
        # G5 of the MIDI Tuning Standard, 783.9909 Hz
        g5_hz = tuning_of(command.settings).hz(79)
        assert cents_between(g5_hz, target_hz=783.9909) == pytest.approx(-3.910, abs=0.001)
        assert stand.remembered[-1].practice.temperament_file == str(own)
        assert "hall" in screen_text(pilot)


async def test_a_mistake_in_ones_own_file_is_said_in_place_and_can_be_corrected(
    stand: Stand, tmp_path: Path
) -> None:
    own = tmp_path / "hall.toml"
    own.write_text(OWN_FILE.replace("1/4", "a quarter"))
    async with stand.opened(size=(120, 40)) as pilot:
        await enter_file(pilot, own)
        await settled(pilot)
        assert "line 4" in screen_text(pilot)
        assert pilot.app.settings == PracticeSettings()
        own.write_text(OWN_FILE)
        await pilot.press("enter")
        assert pilot.app.settings.tuning_name == "hall"


def test_the_table_shows_werckmeister_as_it_is_published() -> None:
    """A. Sanderson's table with A = 0, as quoted in a tuning list of 1999, in whole cents."""
    werckmeister = TEMPERAMENTS["werckmeister-3"]
    table = temperament_table([werckmeister], marked=werckmeister, in_use="equal").plain
    assert table.splitlines()[1].split()[3:] == [
        "+12",
        "+2",
        "+4",
        "+6",
        "+2",
        "+10",
        "0",
        "+8",
        "+4",
        "0",
        "+8",
        "+4",
    ]


def test_equal_temperament_in_hertz_is_that_of_the_midi_specification() -> None:
    """MIDI 1.0 Detailed Specification, MIDI Tuning: key 60 is 261.6256 Hz, key 69 440 Hz."""
    text = temperament_in_full(TEMPERAMENTS["equal"], a4_hz=440.0, width=100).plain
    hertz = text.splitlines()[-1].split()
    assert (hertz[1], hertz[10]) == ("261.63", "440.00")
