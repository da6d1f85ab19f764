from intonation.app.printing.temperaments import temperament_in_full, temperament_table
from intonation.pitch.temperaments import TEMPERAMENTS
from intonation.practice.settings import PracticeSettings
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
