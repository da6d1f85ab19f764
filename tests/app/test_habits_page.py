"""The player's habits on the screen: all notes as a picture or as numbers, one note in full."""

from collections.abc import Awaitable, Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import cast

import numpy as np
import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.engine.habit_record import HabitRecord
from intonation.engine.reporting import Reporting
from intonation.practice.settings import PracticeSettings
from intonation.report.pages.player_page import player_page
from intonation.store.store import Store
from tests.app.conftest import Stand, lines_without_room, press, screen_text, settled, words_on
from tests.support.faulty_alto import faulty_alto
from tests.support.habitual_player import ALTO, Practice, TrueHabits, record_of
from tests.support.long_record import PLAYER, keep_record

DAY = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)
SIZES = [(80, 24), (120, 40)]
HIGHEST = 91


def practised_for_weeks() -> Store:
    """Return a record of seven weeks; E6 lies sharp, melodies too, and G6 was hardly played."""
    sharp = {81: 14.0, 88: 18.0, 68: -6.0, 79: -7.0, 85: -9.0}
    habits = TrueHabits(
        usual=tuple(sharp.get(midi, 2.0) for midi in ALTO), in_melodies=7.0, sag=-1.5
    )
    notes = record_of(habits, np.random.default_rng(1), Practice(sittings=18, days=50, notes=50))
    few = [note for note in notes if note.midi == HIGHEST][:3]
    store = Store(None)
    keep_record(store, [n for n in notes if n.midi not in (90, HIGHEST)] + few, last_day=DAY)
    return store


def app_with(stand: Stand, store: Store, player: str = PLAYER) -> IntonationApp:
    app = stand.app(PracticeSettings(player=player))
    record = HabitRecord(store, lambda: DAY)
    app.surroundings = replace(app.surroundings, habits=lambda: record)
    return app


async def hold(pilot: Pilot[int], key: str, times: int) -> None:
    """Press a key many times."""
    await pilot.press(*[key] * times)
    await settled(pilot)


async def habits_page(_: Stand, pilot: Pilot[int]) -> None:
    """Open the habits of a player who has practised for weeks, for the guide."""
    record = HabitRecord(practised_for_weeks(), lambda: DAY)
    app = cast("IntonationApp", pilot.app)
    app.surroundings = replace(app.surroundings, habits=lambda: record)
    await press(pilot, "b")


async def picture(pilot: Pilot[int]) -> None:
    await press(pilot, "b")


async def numbers(pilot: Pilot[int]) -> None:
    await press(pilot, "b", "n")


async def one_note(pilot: Pilot[int]) -> None:
    await press(pilot, "b", "enter")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", [picture, numbers, one_note], ids=lambda page: page.__name__)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool],
    stand: Stand,
    page: Callable[[Pilot[int]], Awaitable[None]],
    size: tuple[int, int],
) -> None:
    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await page(pilot)

    app = app_with(stand, practised_for_weeks())
    assert snap_compare(app, run_before=go, terminal_size=size)


async def test_the_note_that_is_furthest_off_is_marked_first(stand: Stand) -> None:
    async with app_with(stand, practised_for_weeks()).run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        assert "E6 usually lies" in words_on(pilot)
        assert "sharp (90 %" in words_on(pilot)
        await press(pilot, "left")
        assert "Eb6 usually lies" in words_on(pilot)


async def test_a_note_that_was_held_three_times_is_not_judged(stand: Stand) -> None:
    async with app_with(stand, practised_for_weeks()).run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        await hold(pilot, "right", 16)
        assert "G6 was held 3 times. From the fifth time on" in words_on(pilot)
        await press(pilot, "left")
        assert "F#6 was not held in these weeks." in words_on(pilot)


async def test_the_numbers_have_every_note_that_was_held_and_the_marked_one_in_sight(
    stand: Stand,
) -> None:
    async with app_with(stand, practised_for_weeks()).run_test(size=(80, 50)) as pilot:
        await press(pilot, "b", "n")
        page = screen_text(pilot)
        assert sum("│" in line for line in page.splitlines()) == 25
        assert "▸ E6" in page
        await pilot.resize_terminal(80, 24)
        await hold(pilot, "right", 9)
        assert "▸ G6" in screen_text(pilot)
        assert "too few" in screen_text(pilot)


async def test_one_note_tells_its_weeks_and_what_it_goes_with(stand: Stand) -> None:
    async with app_with(stand, practised_for_weeks()).run_test(size=(120, 40)) as pilot:
        await press(pilot, "b", "enter")
        page = words_on(pilot)
        assert "E6 usually lies" in page
        assert "In melodies you play it" in page
        assert "10 Mar 2031" in page
        assert "None is on record" in page
        await press(pilot, "right")
        assert "F6 usually lies" in words_on(pilot)


async def test_an_instrument_check_on_record_says_whose_it_is(stand: Stand) -> None:
    alto = faulty_alto(3)
    alto.instrument.name = "alto"
    store = Store(None)
    for row in alto.check("first day", "AB"):
        store.add_held_note(row, held_at=DAY)
    for row in alto.check("second day", "A"):
        store.add_held_note(row, held_at=DAY)
    async with app_with(stand, store, player=row.player).run_test(size=(120, 40)) as pilot:
        await press(pilot, "b")
        (whose,) = (
            line for line in screen_text(pilot).splitlines() if line.strip()[:6] == "whose "
        )
        assert len(whose.split()) == 1 + len(ALTO)
        assert set(whose.split()[1:]) <= set("IYBiy=?")
        assert "I instrument's" in words_on(pilot)
        await press(pilot, "enter")
        assert "The instrument check says:" in words_on(pilot)


async def test_who_has_not_played_yet_reads_what_to_do(stand: Stand) -> None:
    async with app_with(stand, Store(None)).run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        assert "Play a take or two against a drone" in words_on(pilot)
        await press(pilot, "enter", "right", "n", "escape")
        assert "Concert pitch" in screen_text(pilot)


async def test_without_a_record_the_page_says_so(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await press(pilot, "b")
        assert "No practice record is at hand" in words_on(pilot)


async def test_without_colour_the_picture_says_the_same(
    monkeypatch: pytest.MonkeyPatch, stand: Stand
) -> None:
    async with app_with(stand, practised_for_weeks()).run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        coloured = screen_text(pilot)
    monkeypatch.setenv("NO_COLOR", "1")
    async with app_with(Stand(), practised_for_weeks()).run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        assert screen_text(pilot) == coloured
        assert "sharp +30" in coloured


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)], ids=str)
async def test_the_picture_fits_the_window(stand: Stand, size: tuple[int, int]) -> None:
    async with app_with(stand, practised_for_weeks()).run_test(size=(120, 40)) as pilot:
        await press(pilot, "b")
        await pilot.resize_terminal(*size)
        await settled(pilot)
        page = screen_text(pilot).splitlines()
        assert any("sharp +30" in line for line in page)
        assert any("flat  −30" in line for line in page)
        assert any("E6 usually lies" in line for line in page)
        assert lines_without_room(pilot) == []


async def test_notes_beyond_the_instrument_find_room_in_the_picture(stand: Stand) -> None:
    notes = record_of(TrueHabits(), np.random.default_rng(2), Practice(sittings=4, days=9))
    lower = [note._replace(midi=note.midi - 19) for note in notes]
    # the note that is furthest off is marked when the page opens
    lowest = min(note.midi for note in lower)
    lower = [n._replace(cents=n.cents - 40.0) if n.midi == lowest else n for n in lower]
    store = Store(None)
    keep_record(store, notes + lower, last_day=DAY)
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        assert "Bb2 usually lies" in words_on(pilot)
        (names,) = (line for line in screen_text(pilot).splitlines() if "F#G#AbBC#DbE" in line)
        assert len(names.split()[0]) == 92 - 46


async def test_after_five_weeks_away_page_and_report_say_that_all_is_from_before(
    stand: Stand,
) -> None:
    store, said = practised_for_weeks(), "You last played 35 days ago; all of this is from before."
    app, today = app_with(stand, store), DAY + timedelta(days=35)
    app.surroundings = replace(app.surroundings, habits=lambda: HabitRecord(store, lambda: today))
    async with app.run_test(size=(80, 24)) as pilot:
        assert said in await press(pilot, "b")
        assert lines_without_room(pilot) == []
        assert "usually lies" in words_on(pilot)
    assert said in player_page(Reporting(store, lambda: today).player(PLAYER)).html
    assert said not in player_page(Reporting(store, lambda: DAY).player(PLAYER)).html
