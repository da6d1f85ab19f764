"""The window may be any size from 80x24 up, may change while playing, and every page has help."""

import importlib
import pkgutil

import pytest
from textual.widgets import Static

from intonation.app import screens, words
from intonation.app.screens.page import Page
from tests.app.conftest import TAKE_NOTES, Stand, play_take, screen_text, settled


async def test_a_window_resized_while_a_note_sounds_shows_the_take_complete(stand: Stand) -> None:
    async with stand.opened(size=(120, 40)) as pilot:
        await play_take(stand, pilot, TAKE_NOTES[:3])
        stand.engine.begin_note()
        for size in ((80, 24), (200, 60), (80, 24)):
            await pilot.resize_terminal(*size)
            await settled(pilot)
            lines = screen_text(pilot).splitlines()
            assert len(lines) == size[1]
            assert "8.1 cents sharp:" in "\n".join(lines)
            assert "Space End" in lines[-1]
        stand.engine.end_note(81, 14.2)
        await settled(pilot)
        assert "14.2 cents sharp:" in screen_text(pilot)
        assert len(stand.kept) == 4


async def test_lines_stay_short_enough_to_read_in_a_very_wide_window(stand: Stand) -> None:
    # a line of print holds 45 to 90 characters (common practice of typographers, no source)
    async with stand.opened(size=(200, 60)) as pilot:
        for keys in ((), ("space",)):
            await pilot.press(*keys)
            await settled(pilot)
            for place in pilot.app.screen.query(Static):
                assert place.content_size.width <= 130
            assert max(len(line.strip()) for line in screen_text(pilot).splitlines()) <= 130


def all_pages() -> list[type[Page]]:
    for module in pkgutil.iter_modules(screens.__path__):
        importlib.import_module(f"{screens.__name__}.{module.name}")
    pages = [Page]
    for page in pages:
        pages.extend(page.__subclasses__())
    return [page for page in pages if page.heading]


@pytest.mark.parametrize("page", all_pages(), ids=lambda page: page.__name__)
def test_help_says_what_every_page_is_for(page: type[Page]) -> None:
    assert page.heading == words.HELP or len(words.ABOUT_PAGES[page.heading]) > 20
