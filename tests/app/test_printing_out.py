"""Reports are written from the page that one looks at, and a consort finds its pitch."""

from collections.abc import Awaitable, Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import cast

import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.screens.consort import ConsortPage
from intonation.app.screens.page import Page
from intonation.app.widgets.typed_value import TypedValue
from intonation.app.words import ABOUT_PAGES
from intonation.engine.habit_record import HabitRecord
from intonation.engine.reporting import Reporting
from intonation.engine.workbench import Workbench
from intonation.heldnotes.row import HeldNoteRow
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.app import test_traces_page
from tests.app.conftest import Stand, press, screen_text, settled
from tests.app.test_pictures import SIZES
from tests.app.test_workshop_pictures import app_at
from tests.support.consort_record import PLAYER, consort_record
from tests.support.known_bench import known_bench

NOW = datetime(2031, 4, 1, 12, 0, tzinfo=UTC)
pytestmark = pytest.mark.usefixtures("in_one_time_zone")


def app_with(stand: Stand, store: Store | None) -> IntonationApp:
    app = stand.app(PracticeSettings(player=PLAYER))
    if store is not None:
        app.surroundings = replace(
            app.surroundings,
            traces=lambda: store.traces,
            habits=lambda: HabitRecord(store, lambda: NOW),
            workbench=lambda: Workbench(store, lambda: NOW),
            reporting=lambda: Reporting(store, lambda: NOW),
        )
    return app


async def written(pilot: Pilot[int], path: Path) -> str:
    """Give the file another name, and return what the page says then."""
    pilot.app.screen.query_one(TypedValue).value = str(path)
    return await press(pilot, "enter")


async def consort(pilot: Pilot[int]) -> None:
    """Open the consort's page without waiting for the workshop, which examines at length."""
    bench = cast("IntonationApp", pilot.app).surroundings.workbench
    assert bench is not None
    await pilot.app.push_screen(ConsortPage(bench()))
    await settled(pilot)


@pytest.mark.parametrize(
    ("page", "heading"),
    [("b", "wren: over time"), ("v", "Every note of the sitting"), ("w", "alto: its notes")],
)
async def test_one_key_writes_the_report_of_what_is_looked_at(
    stand: Stand, tmp_path: Path, page: str, heading: str
) -> None:
    path = tmp_path / "page.html"
    async with app_with(stand, test_traces_page.record()).run_test(size=(200, 30)) as pilot:
        assert "Enter writes the file" in await press(pilot, page, "p")
        assert f"{path} is ready to be printed." in await written(pilot, path)
        assert "Enter writes the file" not in await press(pilot, "escape")
    html = path.read_text("utf-8")
    assert heading in html
    assert html.rstrip().endswith("</html>")


async def test_a_page_that_cannot_be_written_is_said_and_can_be_named_anew(
    stand: Stand, tmp_path: Path
) -> None:
    async with app_with(stand, test_traces_page.record()).run_test(size=(200, 30)) as pilot:
        await press(pilot, "b", "p")
        assert "cannot be written" in await written(pilot, tmp_path / "nowhere" / "page.html")
        assert "Enter writes the file" in await press(pilot, "enter")
        assert "ready to be printed" in await written(pilot, tmp_path / "page.html")


async def test_who_leaves_the_name_writes_nothing(
    stand: Stand, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with app_with(stand, test_traces_page.record()).run_test() as pilot:
        assert "Enter writes the file" not in await press(pilot, "v", "p", "escape")
    assert not list(tmp_path.iterdir())


async def test_without_a_record_there_is_nothing_to_print(stand: Stand) -> None:
    async with app_with(stand, None).run_test() as pilot:
        assert "nothing to print" in await press(pilot, "b", "p", "enter")


async def test_the_sheet_for_the_maker_is_written_from_the_workshop(
    stand: Stand, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.html"
    async with app_at(stand, known_bench()).run_test(size=(200, 40)) as pilot:
        assert "S writes the sheet for the maker" in await press(pilot, "w")
        assert "qualified maker" in await press(pilot, "s")
        assert f"{path} is ready to be printed." in await written(pilot, path)
    assert "octaves too wide" in path.read_text("utf-8")


async def test_a_consort_is_told_its_pitch_its_pulls_and_the_cautions(stand: Stand) -> None:
    async with app_with(stand, consort_record()).run_test(size=(100, 40)) as pilot:
        page = await press(pilot, "w", "g")
        assert "alto: leave it as it is" in page
        assert "tenor: pull the head joint by 2 mm" in page
        # alto 4 and tenor 16 cents above 440 Hz are 441.0 and 444.1 Hz (440 · 2^(cents/1200))
        hertz = float(page.split("A4 = ")[2].split(" Hz")[0])
        assert 441.0 < hertz < 444.1
        assert "never force it" in page
        assert "Never alter a historical or valuable instrument" in page


async def test_who_rests_does_not_count_for_the_consort(stand: Stand) -> None:
    async with app_with(stand, consort_record()).run_test(size=(100, 40)) as pilot:
        await consort(pilot)
        page = await press(pilot, "down", "space")
        assert "tenor: rests" in page
        assert "two instruments at least" in page
        assert "pull the head joint by" in await press(pilot, "space")


async def test_an_instrument_of_which_too_little_is_known_is_named(stand: Stand) -> None:
    store = consort_record()
    few = HeldNoteRow(
        event=1, player=PLAYER, instrument="soprano", session="one day", midi=72, cents=3.0
    )
    store.add_held_note(few)
    async with app_with(stand, store).run_test(size=(100, 40)) as pilot:
        await consort(pilot)
        page = " ".join(screen_text(pilot).split())
        assert '"soprano": Too little is known' in page
        assert "tenor: pull the head joint by 2 mm" in page


async def print_page(pilot: Pilot[int]) -> None:
    await press(pilot, "b", "p")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", [consort, print_page], ids=lambda page: page.__name__)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool],
    stand: Stand,
    page: Callable[[Pilot[int]], Awaitable[None]],
    size: tuple[int, int],
) -> None:
    app = app_with(stand, consort_record())
    assert snap_compare(app, run_before=page, terminal_size=size)


@pytest.mark.parametrize("page", [consort, print_page], ids=lambda page: page.__name__)
async def test_without_colour_the_page_says_the_same(
    monkeypatch: pytest.MonkeyPatch, stand: Stand, page: Callable[[Pilot[int]], Awaitable[None]]
) -> None:
    async with app_with(stand, consort_record()).run_test(size=(80, 24)) as pilot:
        await page(pilot)
        coloured = screen_text(pilot)
        heading = cast("Page", pilot.app.screen).heading
        assert heading in ABOUT_PAGES
    monkeypatch.setenv("NO_COLOR", "1")
    async with app_with(Stand(), consort_record()).run_test(size=(80, 24)) as pilot:
        await page(pilot)
        assert screen_text(pilot) == coloured
