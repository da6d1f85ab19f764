"""Fingerings and workshop as pictures, at the smallest size and at an ordinary one."""

from collections.abc import Awaitable, Callable

import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.engine.workbench import Workbench
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import Stand, screen_text, settled
from tests.app.test_pictures import SIZES
from tests.support.faulty_alto import PLAYER
from tests.support.known_bench import known_bench, known_examination

pytestmark = pytest.mark.usefixtures("in_one_time_zone")
Page = Callable[[Pilot[int]], Awaitable[None]]


def app_at(stand: Stand, bench: Workbench) -> IntonationApp:
    settings = PracticeSettings(player=PLAYER, instrument="alto")
    return stand.app(settings, workbench=lambda: bench)


async def fingerings_page(pilot: Pilot[int]) -> None:
    await pilot.press("f", *["down"] * 7)


async def german_fingerings(pilot: Pilot[int]) -> None:
    await pilot.press("f", *["down"] * 6, "right")


async def workshop_page(pilot: Pilot[int]) -> None:
    await pilot.press("w")


async def dimensions(pilot: Pilot[int]) -> None:
    await pilot.press("w")
    await settled(pilot)
    await pilot.press("d")


async def prediction_page(pilot: Pilot[int]) -> None:
    await workshop_page(pilot)
    await settled(pilot)
    await pilot.press("enter")


async def trial_logged(pilot: Pilot[int]) -> None:
    await prediction_page(pilot)
    await settled(pilot)
    await pilot.press("enter", *"baking paper", "enter")


async def trials_page(pilot: Pilot[int]) -> None:
    bench = pilot.app.surroundings.workbench()
    bench.log(PLAYER, "alto", known_examination().works[0], note="baking paper")
    bench.measured_again = True
    await workshop_page(pilot)
    await settled(pilot)
    await pilot.press("t")


PAGES = [
    fingerings_page,
    german_fingerings,
    workshop_page,
    dimensions,
    prediction_page,
    trial_logged,
    trials_page,
]


def opening(page: Page) -> Page:
    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await page(pilot)
        await settled(pilot)

    return go


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.__name__)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool], stand: Stand, page: Page, size: tuple[int, int]
) -> None:
    app = app_at(stand, known_bench())
    assert snap_compare(app, run_before=opening(page), terminal_size=size)


@pytest.mark.parametrize("page", [workshop_page, trials_page], ids=lambda page: page.__name__)
async def test_without_colour_the_page_says_the_same(
    monkeypatch: pytest.MonkeyPatch, stand: Stand, page: Page
) -> None:
    async with app_at(stand, known_bench()).run_test(size=(80, 24)) as pilot:
        await opening(page)(pilot)
        coloured = screen_text(pilot)
    monkeypatch.setenv("NO_COLOR", "1")
    async with app_at(Stand(), known_bench()).run_test(size=(80, 24)) as pilot:
        await opening(page)(pilot)
        assert screen_text(pilot) == coloured
