"""The set-up: it opens on a clean home, checks the sound, and can be left at any time."""

from collections.abc import Callable

import pytest
from textual.pilot import Pilot

from intonation.app.first_run_words import STEPS
from intonation.app.screens.first_run import FirstRunPage
from intonation.engine.messages import SoundCounters, SoundSettings
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import Stand, press, screen_text, settled, words_on

SIZES = [(80, 24), (120, 40)]
COUNTERS = SoundCounters(2250, 2250, 0, 0, 0, -31.2, None)


async def set_up_page(_: Stand, pilot: Pilot[int]) -> None:
    """Open the set-up, for the guide."""
    await press(pilot, "u")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize(
    "pages", range(len(STEPS)), ids=lambda pages: STEPS[pages].replace(" ", "_")
)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool], stand: Stand, pages: int, size: tuple[int, int]
) -> None:
    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await press(pilot, "u", *["space"] * pages)

    # a simulated player, since every system has other devices
    sound = SoundSettings(simulated=True, headphones=True)
    app = stand.app(PracticeSettings(player="wren"), sound=sound)
    assert snap_compare(app, run_before=go, terminal_size=size)


async def test_every_page_can_be_skipped_and_come_back_to(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "u")
        for number in range(2, 6):
            await press(pilot, "space")
            assert f"{number} of 5" in screen_text(pilot)
        for number in (4, 3, 2, 1):
            await press(pilot, "escape")
            assert f"{number} of 5" in screen_text(pilot)
        await press(pilot, "escape")
        assert "Drone" in screen_text(pilot)
        assert pilot.app.settings == PracticeSettings()


async def test_the_key_line_names_only_what_does_something_on_this_page(stand: Stand) -> None:
    async with stand.opened() as pilot:
        lines = [
            (await press(pilot, key)).rpartition("Space Next")[2]
            for key in ("u", "space", "space", "space", "space")
        ]
    assert ["Check the sound" in line for line in lines] == [False, False, False, True, False]
    assert ["Choose" in line for line in lines] == [True, True, True, False, False]
    assert all("Esc Back" in line for line in lines)


async def test_what_is_chosen_counts_and_is_remembered(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "u", "enter", *"linnet", "enter", "down", "right")
        await press(pilot, "space", "right", "down", "down", "right")
        await press(pilot, "space", "down", "down", "down", "right")
        await press(pilot, "space", "space")
        page = words_on(pilot)
        assert "Player linnet, on the tenor" in page
        assert "A4 = 442 Hz" in page
        assert "Room 20 °C" in page
        assert "Sounds through headphones" in page
        await press(pilot, "space")
    assert stand.remembered[-1].practice.player == "linnet"
    assert stand.remembered[-1].practice.instrument == "tenor"
    assert stand.remembered[-1].headphones


async def test_it_is_remembered_that_the_set_up_was_left_at_once(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "u", "x")
        assert "Drone" in screen_text(pilot)
    assert len(stand.remembered) == 1


async def test_other_devices_are_opened_before_they_are_checked(stand: Stand) -> None:
    async with stand.opened() as pilot:
        opened = len(stand.sound.engines)
        await press(pilot, "u", "space", "space")
        assert len(stand.sound.engines) == opened
        await press(pilot, "right", "space")
        assert len(stand.sound.engines) == opened + 1
        assert stand.engine.sound.simulated


async def test_without_a_microphone_it_says_what_works_all_the_same(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "u", "space", "space", "right", "space")
        assert "there is nothing to check" in words_on(pilot)
        assert "listening drills (L)" in words_on(pilot)
        await press(pilot, "c")
        assert "there is nothing to check" in words_on(pilot)


async def test_the_input_level_is_shown_on_the_page_of_the_check(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "u", "space", "space", "space")
        assert "Nothing heard yet" in words_on(pilot)
        stand.engine.heard(COUNTERS)
        await settled(pilot)
        assert "−31 dBFS" in words_on(pilot)
        assert "ms by what the devices say" in words_on(pilot)


async def test_a_check_that_fails_says_why_and_the_sound_comes_back(stand: Stand) -> None:
    app = stand.app(sound=SoundSettings(microphone="a microphone that is not there"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        opened = len(stand.sound.engines)
        await press(pilot, "u", "space", "space", "space", "enter")
        assert "Sound look" in words_on(pilot)
        assert len(stand.sound.engines) == opened + 1


async def test_it_opens_by_itself_the_first_time_only(stand: Stand) -> None:
    app = stand.app(first_time=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert isinstance(app.screen, FirstRunPage)
        await press(pilot, "escape")
        assert "Drone" in screen_text(pilot)
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert "Welcome" not in screen_text(pilot)


async def test_a_word_that_is_no_instrument_is_explained(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "u", "down", "enter", *"trebel", "enter")
        assert "treble" in words_on(pilot)
        assert "1 of 5" in screen_text(pilot)
