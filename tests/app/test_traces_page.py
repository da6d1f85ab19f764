"""After a take its notes can be looked at over time, also the next day; never while one sounds."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.screens.traces import TracesPage
from intonation.engine.recorder import PracticeRecorder
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.app.conftest import Stand, lines_without_room, play_take, press, screen_text, settled
from tests.support.traces import held_against_the_drone

SIZES = [(80, 24), (120, 40)]
pytestmark = pytest.mark.usefixtures("in_one_time_zone")
YESTERDAY = datetime(2031, 3, 14, 12, 30, tzinfo=UTC)
SETTINGS = PracticeSettings(player="wren")
NOTES = ((69, 3.2), (72, -12.6), (77, 8.1), (81, 18.9), (84, -31.0), (86, 22.4), (65, 0.4))


def record() -> Store:
    """Return a record with a take of yesterday and one of today."""
    store = Store(None)
    for day, notes in enumerate((((65, -9.0), (67, 4.0)), NOTES)):
        began_at = YESTERDAY + timedelta(days=day)
        recorder = PracticeRecorder(store, session=f"day {day}", now=lambda at=began_at: at)
        recorder.begin_take(SETTINGS)
        for note in held_against_the_drone(SETTINGS, *notes):
            recorder.keep(note)
        recorder.end_take()
    return store


def app_with(stand: Stand, store: Store | None) -> IntonationApp:
    return stand.app(SETTINGS, traces=None if store is None else lambda: store.traces)


async def look(pilot: Pilot[int], *presses: str) -> str:
    """Open the page from the choices, press keys, and return what stands there."""
    await settled(pilot)
    await press(pilot, "v", *presses)
    return screen_text(pilot)


async def looking_back(_stand: Stand, pilot: Pilot[int]) -> None:
    """Bring one note of a take onto the screen, for the guide."""
    await pilot.app.push_screen(TracesPage(record().traces, player="wren"))
    await settled(pilot)
    await pilot.press("right", "right")


async def side_by_side(stand: Stand, pilot: Pilot[int]) -> None:
    """Bring several notes of a take onto the screen, for the guide."""
    await looking_back(stand, pilot)
    await pilot.press("left", "left", "a")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize(
    "presses",
    [("right",), ("a",), ("right", "n"), ("a", "n")],
    ids=["one", "several", "one_in_numbers", "several_in_numbers"],
)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool],
    stand: Stand,
    presses: tuple[str, ...],
    size: tuple[int, int],
) -> None:
    async def go(pilot: Pilot[int]) -> None:
        await look(pilot, *presses)

    assert snap_compare(app_with(stand, record()), run_before=go, terminal_size=size)


async def test_the_arrows_lead_from_note_to_note_and_from_take_to_take(stand: Stand) -> None:
    async with app_with(stand, record()).run_test(size=(80, 24)) as pilot:
        page = await look(pilot)
        assert "Note 1 of 7: A4, 3.2 cents sharp." in page
        assert "2031-03-15" in page
        await pilot.press("right", "right", "right", "left")
        await settled(pilot)
        assert "Note 3 of 7: F5, 8.1 cents sharp." in screen_text(pilot)
        await pilot.press("up")
        await settled(pilot)
        page = screen_text(pilot)
        assert "Note 1 of 2: F4, 9.0 cents flat." in page
        assert "2031-03-14" in page
        await pilot.press("up", "left")
        await settled(pilot)
        assert "Note 1 of 2" in screen_text(pilot)
        await pilot.press("down", "right", *["right"] * 9)
        await settled(pilot)
        assert "Note 7 of 7" in screen_text(pilot)


async def test_what_a_note_did_is_said_in_words_and_in_numbers(stand: Stand) -> None:
    async with app_with(stand, record()).run_test(size=(80, 24)) as pilot:
        page = await look(pilot, "right", "right", "right", "right")
        assert "It sinks 10 cents in its last third." in " ".join(page.split())
        page = await look(pilot, "n")
        assert "−31.0 flat" in page
        page = await look(pilot, "a")
        (heading,) = [line for line in page.splitlines() if "1st" in line]
        assert heading.split()[-1] == "secs"


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (200, 60)], ids=str)
@pytest.mark.parametrize("presses", [("a",), ("n",), ()], ids=["several", "numbers", "one"])
async def test_the_page_fits_every_window(
    stand: Stand, size: tuple[int, int], presses: tuple[str, ...]
) -> None:
    async with app_with(stand, record()).run_test(size=size) as pilot:
        await look(pilot, *presses)
        assert pilot.app.screen.query_one("#workshop-list").max_scroll_y == 0
        await pilot.resize_terminal(80, 24)
        await settled(pilot)
        assert lines_without_room(pilot) == []


@pytest.mark.parametrize("presses", [("a",), ("n",), ()], ids=["several", "numbers", "one"])
async def test_without_colour_the_page_says_the_same(
    monkeypatch: pytest.MonkeyPatch, stand: Stand, presses: tuple[str, ...]
) -> None:
    async with app_with(stand, record()).run_test(size=(80, 24)) as pilot:
        coloured = await look(pilot, *presses)
        for widget in pilot.app.screen.query("*"):
            for line in range(widget.size.height):
                # a piece without a style breaks the terminal's colour filters
                assert all(piece.style is not None for piece in widget.render_line(line))
    monkeypatch.setenv("NO_COLOR", "1")
    async with app_with(Stand(), record()).run_test(size=(80, 24)) as pilot:
        assert await look(pilot, *presses) == coloured


async def test_the_page_opens_after_a_take_and_leads_back_to_its_summary(stand: Stand) -> None:
    async with app_with(stand, record()).run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await play_take(stand, pilot, [(69, 3.2)])
        await pilot.press("space")
        await settled(pilot)
        assert "Looking back" in await look(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert "The take" in screen_text(pilot)


async def test_nothing_is_drawn_while_a_take_goes_on(stand: Stand) -> None:
    async with app_with(stand, record()).run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("space")
        stand.engine.your_turn()
        stand.engine.begin_note()
        assert "Looking back" not in await look(pilot)


@pytest.mark.parametrize(
    ("store", "said"),
    [(None, "No practice record is at hand"), (Store(None), "Play one, then come back.")],
    ids=["no record", "no take"],
)
async def test_without_a_take_the_page_says_what_to_do(
    stand: Stand, store: Store | None, said: str
) -> None:
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        assert said in await look(pilot)
