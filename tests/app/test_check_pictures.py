"""Every page of the instrument check as a picture, at the smallest size and at an ordinary one."""

from collections import Counter
from collections.abc import Awaitable, Callable
from dataclasses import replace
from typing import get_args

import pytest
from textual.pilot import Pilot

from intonation.app.check_keys import CHECK, CHECKING, COMPARISON, VERDICT
from intonation.app.keys import EVERYWHERE, Key
from intonation.app.screens.comparison import ComparisonPage
from intonation.app.screens.verdict import VerdictPage
from intonation.app.widgets.key_line import key_line
from intonation.diagnosis.results import Lack
from intonation.heldnotes.row import HeldNoteRow
from intonation.words.diagnosis import why_open_in_words
from tests.app.conftest import lines_without_room, screen_text, settled
from tests.app.test_check_pages import CheckStand, answer, answered, begun, in_second_pass
from tests.support.known_verdict import KNOWN_CHANGES, KNOWN_VERDICT

Page = Callable[[Pilot[int]], Awaitable[None]]
SIZES = [(80, 24), (120, 40)]


async def check(pilot: Pilot[int]) -> None:
    await pilot.press("c", *["down"] * 2)


async def pass_begins(pilot: Pilot[int]) -> None:
    await pilot.press("c", "space")


async def wrong_note(pilot: Pilot[int]) -> None:
    await begun(pilot)
    answer(pilot, off=2)


async def swell(pilot: Pilot[int]) -> None:
    await in_second_pass(pilot)
    await answered(pilot)


async def broken_off(pilot: Pilot[int]) -> None:
    await begun(pilot)
    await answered(pilot, 3)
    await pilot.press("escape")


async def verdict(pilot: Pilot[int]) -> None:
    await pilot.press("c", "v")
    await settled(pilot)
    assert isinstance(pilot.app.screen, VerdictPage)
    pilot.app.screen.found, pilot.app.screen.at = KNOWN_VERDICT, 10
    pilot.app.screen.print_all()


async def verdict_in_numbers(pilot: Pilot[int]) -> None:
    await verdict(pilot)
    await pilot.press("n")


async def whole_instrument(pilot: Pilot[int]) -> None:
    await verdict(pilot)
    await pilot.press("i")


async def comparison(pilot: Pilot[int]) -> None:
    await pilot.press("c", "b")
    await settled(pilot)
    await pilot.press("a", "b")
    assert isinstance(pilot.app.screen, ComparisonPage)
    pilot.app.screen.found = KNOWN_CHANGES
    pilot.app.screen.print_all()


PAGES = [
    check,
    pass_begins,
    wrong_note,
    swell,
    broken_off,
    verdict,
    verdict_in_numbers,
    whole_instrument,
    comparison,
]


def opening(page: Page) -> Page:
    """Return what brings a page onto the screen and waits until it is complete."""

    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await page(pilot)
        await settled(pilot)

    return go


@pytest.fixture
def stand() -> CheckStand:
    stand = CheckStand()
    for session in ("1 March", "2 March"):
        row = HeldNoteRow(
            event=0, player="wren", instrument="alto", session=session, midi=70, cents=1.0
        )
        stand.store.add_held_note(row)
    return stand


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.__name__)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool], stand: CheckStand, page: Page, size: tuple[int, int]
) -> None:
    assert snap_compare(stand.app(), run_before=opening(page), terminal_size=size)


async def test_without_colour_the_verdict_says_the_same(
    monkeypatch: pytest.MonkeyPatch, stand: CheckStand
) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await opening(verdict)(pilot)
        coloured = screen_text(pilot)
    monkeypatch.setenv("NO_COLOR", "1")
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await opening(verdict)(pilot)
        assert screen_text(pilot) == coloured
        assert "sharp" in coloured


async def test_a_verdict_stays_whole_when_the_window_changes(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(120, 40)) as pilot:
        await opening(verdict)(pilot)
        for size in ((80, 24), (200, 60)):
            await pilot.resize_terminal(*size)
            await settled(pilot)
            assert "a model estimate" in screen_text(pilot)
            assert lines_without_room(pilot) == []


@pytest.mark.parametrize("lack", get_args(Lack))
@pytest.mark.parametrize("planned", [True, False])
async def test_an_open_note_says_what_it_lacks_in_the_room_there_is(
    stand: CheckStand, lack: Lack, planned: bool
) -> None:
    notes = KNOWN_VERDICT.pair.notes
    following = next(note.next for note in notes if note.next) if planned else ()
    lacking = replace(notes[-1], verdict="not enough evidence", lacks=lack, next=following)
    pair = replace(KNOWN_VERDICT.pair, notes=(*notes[:-1], lacking))
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await opening(verdict)(pilot)
        assert isinstance(pilot.app.screen, VerdictPage)
        pilot.app.screen.found = replace(KNOWN_VERDICT, pair=pair)
        await pilot.press("down", "down", "down", "down")
        await settled(pilot)
        assert lines_without_room(pilot) == []
        said = " ".join(screen_text(pilot).split())
        assert why_open_in_words(lacking) in said


@pytest.mark.parametrize("keys", [CHECK, CHECKING, VERDICT, COMPARISON], ids=lambda k: k[0].name)
def test_no_key_does_two_things_and_the_key_line_fits(keys: tuple[Key, ...]) -> None:
    counted = Counter(key for entry in (*keys, *EVERYWHERE) for key in entry.keys)
    assert max(counted.values()) == 1
    shown = [key for key in (*keys, *EVERYWHERE) if key.in_key_line]
    assert [key.label for key in shown if key.label not in key_line(shown, width=76).plain] == []
