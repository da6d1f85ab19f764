"""Instruments are named, changed and taken in hand, and their names are those of every page."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.instrument_shelf import InstrumentShelf
from intonation.engine.instrument_desk import InstrumentDesk
from intonation.instruments.own_instrument import OwnInstrument
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.app.conftest import Stand, press, settled, words_on
from tests.support.own_instruments import PEARWOOD, SCHOOL, play

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
WREN = PracticeSettings(player="wren")


@pytest.fixture
def store() -> Store:
    """Return a record in which wren has two altos and a tenor that nobody has played yet."""
    store = Store(None)
    for instrument in (SCHOOL, PEARWOOD, OwnInstrument(name="tenor", size="tenor")):
        store.instruments.keep(instrument)
    play(store, PEARWOOD)
    return store


def app_with(stand: Stand, store: Store, settings: PracticeSettings = WREN) -> IntonationApp:
    return stand.app(settings, instruments=lambda: InstrumentDesk(store.instruments))


async def instruments_page(_stand: Stand, pilot: Pilot[int]) -> None:
    """Bring two altos and a tenor onto the screen, for the guide."""
    store = Store(None)
    for instrument in (SCHOOL, PEARWOOD, OwnInstrument(name="tenor", size="tenor")):
        store.instruments.keep(instrument)
    pilot.app.shelf = InstrumentShelf(lambda: InstrumentDesk(store.instruments))
    await press(pilot, "i", "right", "right")


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool], stand: Stand, store: Store, size: tuple[int, int]
) -> None:
    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        await press(pilot, "down", "right", "i", "down", "down", "down", "down")

    assert snap_compare(app_with(stand, store), run_before=go, terminal_size=size)


async def test_stepping_through_instruments_leads_from_one_alto_to_the_other(
    stand: Stand, store: Store
) -> None:
    settings = PracticeSettings(player="wren", instrument="pearwood alto", size="alto")
    async with app_with(stand, store, settings).run_test(size=(80, 24)) as pilot:
        assert "school alto 3" in await press(pilot, "down", "right")
        chosen = stand.remembered[-1].practice
        assert (chosen.instrument, chosen.size, chosen.fingering_system, chosen.a4_hz) == (
            "school alto 3",
            "alto",
            "german",
            442.0,
        )
        await press(pilot, "right")
        chosen = stand.remembered[-1].practice
        assert (chosen.instrument, chosen.size, chosen.a4_hz) == ("tenor", None, 440.0)


async def test_a_name_that_is_typed_finds_the_instrument_or_says_which_there_are(
    stand: Stand, store: Store
) -> None:
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        said = await press(pilot, "down", "enter", *"pear alto", "enter")
        assert "There is no instrument" in said
        assert "pearwood" in said
        await press(pilot, "escape", "enter", *"Pearwood Alto", "enter")
        assert stand.remembered[-1].practice.instrument == "pearwood alto"


async def test_an_instrument_that_was_played_is_renamed_with_its_notes(
    stand: Stand, store: Store
) -> None:
    play(store, OwnInstrument(name="bass", size="bass"), cents=(7.0,))
    settings = PracticeSettings(player="wren", instrument="bass")
    async with app_with(stand, store, settings).run_test(size=(80, 24)) as pilot:
        page = await press(pilot, "i", "down", "enter", *"maple bass", "enter")
        assert "▸ maple bass" in page
        assert pilot.app.settings.recorder.lowest_midi == 53
    assert [note.cents for note in store.held_notes(instrument="maple bass")] == [7.0]
    assert "bass" not in {one.name for one in store.instruments.all()}


async def test_the_first_instrument_stays_when_another_is_added(stand: Stand) -> None:
    store = Store(None)
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        await press(pilot, "i", "a", *"school tenor", "enter")
        assert pilot.app.settings.recorder.size == "tenor"
    assert [one.name for one in store.instruments.all()] == ["alto", "school tenor"]


async def test_an_instrument_with_notes_is_not_forgotten_and_one_without_is(
    stand: Stand, store: Store
) -> None:
    settings = PracticeSettings(player="wren", instrument="pearwood alto", size="alto")
    async with app_with(stand, store, settings).run_test(size=(80, 24)) as pilot:
        assert "Notes are kept of" in await press(pilot, "i", "d")
        assert "school alto 3" not in await press(pilot, "right", "d")
        assert pilot.app.settings.instrument == "pearwood alto"


async def test_a_name_of_another_size_is_refused(stand: Stand, store: Store) -> None:
    settings = PracticeSettings(player="wren", instrument="pearwood alto", size="alto")
    async with app_with(stand, store, settings).run_test(size=(80, 24)) as pilot:
        said = await press(pilot, "i", "down", "enter", *"tenor", "enter")
        assert "of the size alto" in said


async def test_the_name_stands_on_the_take_page_and_is_what_the_take_is_kept_under(
    stand: Stand, store: Store
) -> None:
    settings = PracticeSettings(player="wren", instrument="pearwood alto", size="alto")
    async with app_with(stand, store, settings).run_test(size=(80, 24)) as pilot:
        await press(pilot, "space")
        assert "pearwood alto" in words_on(pilot)
        assert stand.takes[-1].instrument == "pearwood alto"


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (200, 60)], ids=str)
async def test_a_long_name_fits_every_window(
    stand: Stand, store: Store, size: tuple[int, int]
) -> None:
    name = "the pearwood alto of the old music school, in the blue bag"
    store.instruments.keep(OwnInstrument(name=name, size="alto"))
    settings = PracticeSettings(player="wren", instrument=name, size="alto")
    async with app_with(stand, store, settings).run_test(size=size) as pilot:
        assert "the pearwood" in await press(pilot, "i")
        assert "Press I to see all of yours" in words_on(pilot)
