"""The contents: every page can be found, read about, and opened."""

from collections.abc import Callable

import pytest
from textual.pilot import Pilot

from intonation.app.screens.contents import ENTRIES
from tests.app.conftest import Stand, screen_text, settled


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool], stand: Stand, size: tuple[int, int]
) -> None:
    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await pilot.press("m", "down")
        await settled(pilot)

    assert snap_compare(stand.app(), run_before=go, terminal_size=size)


async def test_every_page_has_a_sentence(stand: Stand) -> None:
    async with stand.opened(size=(120, 50)) as pilot:
        await pilot.press("m")
        await settled(pilot)
        page = " ".join(screen_text(pilot).split())
        for entry in ENTRIES:
            assert f"{entry.shown} {entry.label} " in page
            assert entry.explanation in page


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
async def test_a_page_opens_by_its_letter_and_leads_back_to_practice(
    stand: Stand, entry: object
) -> None:
    async with stand.opened() as pilot:
        await pilot.press("m", ENTRIES[ENTRIES.index(entry)].keys[0])  # type: ignore[arg-type]
        await settled(pilot)
        page = screen_text(pilot)
        assert "All pages" not in page.splitlines()[0]
        assert "Concert pitch" not in page or "No practice record" in page
        await pilot.press("escape")
        await settled(pilot)
        assert "Concert pitch" in screen_text(pilot)


async def test_a_letter_that_the_player_has_changed_is_shown_and_opens_the_page(
    stand: Stand,
) -> None:
    app = stand.app(own_keys={"practice.fingerings": ("j",)})
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("m")
        await settled(pilot)
        assert "J  Fingerings" in screen_text(pilot)
        await pilot.press("j")
        await settled(pilot)
        assert "Fingerings" in screen_text(pilot).splitlines()[0]


async def test_the_marked_page_opens(stand: Stand) -> None:
    async with stand.opened() as pilot:
        place = [entry.name for entry in ENTRIES].index("practice.fingerings")
        await pilot.press("m", *["down"] * place, "enter")
        await settled(pilot)
        assert "Fingerings" in screen_text(pilot).splitlines()[0]


async def test_the_last_page_is_in_sight_when_it_is_marked(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("m", "up")
        await settled(pilot)
        assert f"▸  {ENTRIES[-1].shown}" in screen_text(pilot)
