"""Every page as a picture, at the smallest size and at an ordinary one, on both papers."""

from collections.abc import Awaitable, Callable

import pytest
from textual.pilot import Pilot

from intonation.app.exercise_plan import ExercisePlan
from intonation.engine.messages import SoundCounters
from intonation.exercise.library import exercise_named
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import (
    TAKE_NOTES,
    Stand,
    lines_without_room,
    play_take,
    screen_text,
    settled,
)

Page = Callable[[Stand, Pilot[int]], Awaitable[None]]
SIZES = [(80, 24), (120, 40)]
COUNTERS = SoundCounters(2250, 2250, 0, 0, 0, -31.2, 68.0)


async def practice_page(stand: Stand, pilot: Pilot[int]) -> None:
    await pilot.press(*["down"] * 9)


async def mistake(stand: Stand, pilot: Pilot[int]) -> None:
    await pilot.press("down", "enter", *"trebel", "enter")


async def take_begins(stand: Stand, pilot: Pilot[int]) -> None:
    await pilot.press("space")


async def take_page(stand: Stand, pilot: Pilot[int]) -> None:
    await play_take(stand, pilot, TAKE_NOTES)


async def revealed(stand: Stand, pilot: Pilot[int]) -> None:
    await play_take(stand, pilot, TAKE_NOTES[:3])
    await pilot.press("r")
    stand.engine.read_pitch(81, -17.3)


async def summary(stand: Stand, pilot: Pilot[int]) -> None:
    await play_take(stand, pilot, TAKE_NOTES)
    await pilot.press("space")


async def help_page(stand: Stand, pilot: Pilot[int]) -> None:
    await take_page(stand, pilot)
    await pilot.press("question_mark")


async def sound_page(stand: Stand, pilot: Pilot[int]) -> None:
    await pilot.press("s")
    stand.engine.heard(COUNTERS)


async def temperaments_page(stand: Stand, pilot: Pilot[int]) -> None:
    await pilot.press("t", *["down"] * 6)


async def exercises_page(stand: Stand, pilot: Pilot[int]) -> None:
    await pilot.press("e", *["down"] * 9)


async def import_page(stand: Stand, pilot: Pilot[int]) -> None:
    await pilot.press("e", "i")


async def count_in(stand: Stand, pilot: Pilot[int]) -> None:
    pilot.app.takes.start_melody(ExercisePlan.of(exercise_named("innsbruck")))
    await settled(pilot)


async def melody_page(stand: Stand, pilot: Pilot[int]) -> None:
    await count_in(stand, pilot)
    stand.engine.note_due(9)
    stand.engine.end_phrase(0, [3, -12, 8, 1, -2, 14, 5])


async def melody_summary(stand: Stand, pilot: Pilot[int]) -> None:
    await count_in(stand, pilot)
    stand.engine.end_melody([3, -12, 8, 1, -2, 14, 5, -22, 3, 4] * 4)


PAGES = [
    practice_page,
    mistake,
    take_begins,
    take_page,
    revealed,
    summary,
    help_page,
    sound_page,
    temperaments_page,
    exercises_page,
    import_page,
    count_in,
    melody_page,
    melody_summary,
]


def opening(stand: Stand, page: Page) -> Callable[[Pilot[int]], Awaitable[None]]:
    """Return what brings a page onto the screen and waits until it is complete."""

    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await page(stand, pilot)
        await settled(pilot)

    return go


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.__name__)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool],
    stand: Stand,
    page: Page,
    size: tuple[int, int],
) -> None:
    app = stand.app(PracticeSettings(player="wren"))
    assert snap_compare(app, run_before=opening(stand, page), terminal_size=size)


@pytest.mark.parametrize("page", [take_page, summary], ids=lambda page: page.__name__)
def test_the_page_looks_as_it_was_approved_on_evening_paper(
    snap_compare: Callable[..., bool], stand: Stand, page: Page
) -> None:
    app = stand.app(PracticeSettings(player="wren"), theme="evening")
    assert snap_compare(app, run_before=opening(stand, page), terminal_size=(80, 24))


@pytest.mark.parametrize("page", [take_page, summary], ids=lambda page: page.__name__)
async def test_without_colour_the_page_says_the_same(
    monkeypatch: pytest.MonkeyPatch, stand: Stand, page: Page
) -> None:
    async with stand.opened() as pilot:
        await opening(stand, page)(pilot)
        coloured = screen_text(pilot)
    monkeypatch.setenv("NO_COLOR", "1")
    plain = Stand()
    async with plain.opened() as pilot:
        await opening(plain, page)(pilot)
        assert screen_text(pilot) == coloured
        assert "sharp" in coloured
        assert pilot.app.no_color


@pytest.mark.parametrize(
    "page",
    [mistake, revealed, summary, sound_page, exercises_page, import_page, melody_page],
    ids=lambda page: page.__name__,
)
async def test_every_piece_of_a_line_has_a_style(stand: Stand, page: Page) -> None:
    """A piece without one breaks the terminal's colour filters."""
    async with stand.opened() as pilot:
        await opening(stand, page)(pilot)
        for widget in pilot.app.screen.query("*"):
            for line in range(widget.size.height):
                assert all(piece.style is not None for piece in widget.render_line(line))


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)], ids=str)
async def test_the_card_stays_whole_when_the_window_changes_while_playing(
    stand: Stand, size: tuple[int, int]
) -> None:
    async with stand.opened(size=(120, 40)) as pilot:
        await take_page(stand, pilot)
        await pilot.resize_terminal(*size)
        await settled(pilot)
        page = screen_text(pilot)
        assert "Cover half of hole 5" in page
        assert "Steady within 1.4 cents" in page
        assert lines_without_room(pilot) == []
