"""Today's practice on the screen: a plan, one key for each step, the next one after the take."""

from collections.abc import Awaitable, Callable
from dataclasses import replace
from typing import cast

import numpy as np
import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.screens.page import Page
from intonation.app.screens.today import TodayPage
from intonation.engine.habit_record import HabitRecord
from intonation.engine.messages import PlaySound, StartMelody, StartTake
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.app.conftest import Stand, press, screen_text, settled, words_on
from tests.app.test_habits_page import DAY, practised_for_weeks
from tests.support.long_record import PLAYER

SIZES = [(80, 24), (120, 40)]


def app_with(stand: Stand, store: Store | None = None) -> IntonationApp:
    app = stand.app(PracticeSettings(player=PLAYER))
    record = HabitRecord(store or practised_for_weeks(), lambda: DAY)
    app.surroundings = replace(app.surroundings, habits=lambda: record)
    return app


def marked(pilot: Pilot[int]) -> str:
    (line,) = (line for line in screen_text(pilot).splitlines() if "▸" in line)
    return line.split("▸")[1].strip().split("  ")[0]


async def todays_practice(_: Stand, pilot: Pilot[int]) -> None:
    """Open the plan of a player who has practised for weeks, for the guide."""
    record = HabitRecord(practised_for_weeks(), lambda: DAY)
    app = cast("IntonationApp", pilot.app)
    app.surroundings = replace(app.surroundings, habits=lambda: record)
    await press(pilot, "y")


async def usual(pilot: Pilot[int]) -> None:
    await press(pilot, "y")


async def longest(pilot: Pilot[int]) -> None:
    await press(pilot, "y", "right", "down")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", [usual, longest], ids=lambda page: page.__name__)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool],
    stand: Stand,
    page: Callable[[Pilot[int]], Awaitable[None]],
    size: tuple[int, int],
) -> None:
    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await page(pilot)

    assert snap_compare(app_with(stand), run_before=go, terminal_size=size)


async def test_the_plan_is_made_of_what_the_record_says(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(120, 40)) as pilot:
        await press(pilot, "y")
        page = words_on(pilot)
        assert "Hold E6 against a drone 2 min It usually lies" in page
        assert "Hold A5 against a drone" in page
        assert "20 minutes" in page


async def test_a_take_that_was_played_leads_to_the_next_step(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(80, 24)) as pilot:
        await press(pilot, "y", "down", "space")
        (start,) = (one for one in stand.engine.commands if isinstance(one, StartTake))
        assert start.settings.drone_midi % 12 == 88 % 12
        assert start.settings.drone_midi < 88 - 11
        stand.engine.your_turn()
        await settled(pilot)
        assert "Hold E6 again and again" in words_on(pilot)
        stand.engine.end_note(88, 12.0)
        await press(pilot, "space")
        assert "The take" in screen_text(pilot).splitlines()[0]
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, TodayPage)
        assert "✓ Hold E6" in words_on(pilot)
        assert marked(pilot).startswith("3 ")
        assert stand.app().settings.drone_midi == 65


async def test_a_take_without_a_note_leaves_the_step_to_be_done(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(80, 24)) as pilot:
        await press(pilot, "y", "down", "space")
        stand.engine.your_turn()
        await press(pilot, "space", "escape")
        assert isinstance(pilot.app.screen, TodayPage)
        assert marked(pilot).startswith("2 Hold E6")
        assert "✓" not in screen_text(pilot)


async def test_an_exercise_of_the_plan_leads_back_to_the_plan(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(80, 24)) as pilot:
        await press(pilot, "y", "space")
        assert any(isinstance(one, StartMelody) for one in stand.engine.commands)
        stand.engine.end_melody([3, -12, 8, 1, -2, 14, 5] * 4)
        await settled(pilot)
        assert "The exercise" in screen_text(pilot).splitlines()[0]
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, TodayPage)
        assert marked(pilot).startswith("2 Hold E6")
        await press(pilot, "escape")
        assert "Concert pitch" in screen_text(pilot)


async def test_an_ear_drill_of_the_plan_leads_back_to_the_plan(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(80, 24)) as pilot:
        await press(pilot, "y", *["down"] * 4)
        assert "Ear drill" in marked(pilot)
        await press(pilot, "space")
        assert any(isinstance(one, PlaySound) for one in stand.engine.commands)
        await press(pilot, "escape", "escape")
        assert isinstance(pilot.app.screen, TodayPage)
        assert marked(pilot).startswith("6 ")


async def test_a_plan_can_be_changed_and_is_there_when_one_comes_back(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(120, 40)) as pilot:
        await press(pilot, "y", "left", "down")
        assert "10 minutes" in words_on(pilot)
        assert "Hold E6" in marked(pilot)
        await press(pilot, "o")
        other = marked(pilot)
        assert "Hold E6" not in words_on(pilot)
        await press(pilot, "down", "x")
        assert "Ear drill" not in words_on(pilot)
        await press(pilot, "escape", "y")
        assert "Ear drill" not in words_on(pilot)
        assert other.split(" ", 1)[1] in words_on(pilot)


async def test_leaving_everything_out_leaves_a_calm_page(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(80, 24)) as pilot:
        await press(pilot, "y", *["x"] * 9, "space", "o", "down", "x")
        assert isinstance(pilot.app.screen, TodayPage)


async def test_a_longer_plan_remembers_what_was_done(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(120, 40)) as pilot:
        await press(pilot, "y", "space")
        stand.engine.end_melody([3, -12, 8, 1, -2, 14, 5] * 4)
        await settled(pilot)
        await press(pilot, "escape", "right")
        page = words_on(pilot)
        assert "30 minutes" in page
        assert page.count("✓") == 1
        assert marked(pilot).startswith("2 ")


async def test_on_an_empty_record_there_is_a_plan_too(stand: Stand) -> None:
    async with app_with(stand, Store(None)).run_test(size=(120, 40)) as pilot:
        await press(pilot, "y")
        assert "Too little is known of it yet" in words_on(pilot)
        assert "Too little is on record yet" in words_on(pilot)


async def test_without_a_record_there_is_a_plan_too(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "y")
        assert "Too little is known of it yet" in words_on(pilot)


async def test_another_instrument_gets_a_plan_of_its_own(stand: Stand) -> None:
    async with app_with(stand).run_test(size=(120, 40)) as pilot:
        await press(pilot, "y", "escape", "down", "right", "y")
        assert "tenor" in words_on(pilot)
        assert "Too little is known of it yet" in words_on(pilot)


def test_the_simulated_weeks_are_the_same_every_time() -> None:
    rows = [list(practised_for_weeks().held_notes()) for _ in range(2)]
    assert np.array_equal([row.cents for row in rows[0]], [row.cents for row in rows[1]])


@pytest.mark.parametrize("name", ["today", "habits", "fingerings"])
async def test_a_page_that_is_left_at_once_is_left_in_peace(stand: Stand, name: str) -> None:
    app = stand.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        app.action_open(name)
        await settled(pilot)
        page = app.screen
        assert isinstance(page, Page)
        page.print_all()
        app.pop_screen()
        await settled(pilot)
        assert app.screen is not page
