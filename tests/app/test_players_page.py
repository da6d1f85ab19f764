"""A teacher lists players, takes in a pupil's file, compares, and prints a page for the lesson."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.screens.players import PlayersPage
from intonation.engine.archiving import export_player
from intonation.engine.players import PlayersDesk
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.app.conftest import Stand, lines_without_room, press, screen_text, settled
from tests.support.archives import full_record

SIZES = [(80, 24), (120, 40)]
NOW = datetime(2031, 4, 1, 12, 0, tzinfo=UTC)
pytestmark = pytest.mark.usefixtures("in_one_time_zone")


@pytest.fixture
def store() -> Iterator[Store]:
    with Store(None) as store:
        full_record(store, sittings=2)
        yield store


def app_with(stand: Stand, store: Store | None) -> IntonationApp:
    players = None if store is None else lambda: PlayersDesk(store, lambda: NOW)
    return stand.app(PracticeSettings(player="teacher"), players=players)


async def players_listed(_stand: Stand, pilot: Pilot[int]) -> None:
    """Bring the list of players onto the screen, for the guide."""
    store = Store(None)
    full_record(store, sittings=2)
    await pilot.app.push_screen(PlayersPage(PlayersDesk(store, lambda: NOW)))
    await settled(pilot)


async def players_compared(stand: Stand, pilot: Pilot[int]) -> None:
    """Bring players compared onto the screen, for the guide."""
    await players_listed(stand, pilot)
    await pilot.press("c")


async def typed(pilot: Pilot[int], text: Path | str) -> str:
    """Clear the line, type a file's name into it, and return what came of it."""
    await pilot.press("ctrl+u", *str(text))
    return await press(pilot, "enter")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize(
    "presses", [("p",), ("p", "c"), ("p", "c", "n")], ids=["list", "compared", "numbers"]
)
def test_the_page_looks_as_it_was_approved(
    snap_compare: Callable[..., bool],
    stand: Stand,
    store: Store,
    presses: tuple[str, ...],
    size: tuple[int, int],
) -> None:
    async def go(pilot: Pilot[int]) -> None:
        await press(pilot, *presses)

    assert snap_compare(app_with(stand, store), run_before=go, terminal_size=size)


async def test_a_pupils_file_is_taken_in_and_again_without_doubles(
    stand: Stand, store: Store, tmp_path: Path
) -> None:
    path = tmp_path / "wren.zip"
    export_player(store, "wren", path, written_at=NOW)
    with Store(tmp_path / "teacher.sqlite") as teachers:
        async with app_with(stand, teachers).run_test(size=(100, 30)) as pilot:
            assert "Nobody's notes are kept yet" in await press(pilot, "p")
            await press(pilot, "i")
            page = await typed(pilot, path)
            assert "Added for wren: 40 held notes, 3 sittings, 3 takes" in page
            assert "wren alto" in page
            await press(pilot, "i")
            assert "Everything in it was here already" in await typed(pilot, path)
        assert len(list(teachers.held_notes())) == 40


async def test_a_file_with_a_mistake_is_refused_in_a_sentence_and_the_list_stays(
    stand: Stand, store: Store, tmp_path: Path
) -> None:
    path = tmp_path / "notes.csv"
    path.write_text("event,player,instrument,session,midi,cents\n1,a,b,c,H,0\n")
    async with app_with(stand, store).run_test(size=(120, 30)) as pilot:
        await press(pilot, "p", "i")
        page = await typed(pilot, path)
        assert 'row 2, column "midi": "H"' in page
        assert "wren tenor" in page
        await press(pilot, "i")
        assert "cannot be read" in await typed(pilot, tmp_path / "nowhere.zip")


async def test_an_archive_and_a_page_for_the_lesson_are_written_where_it_is_said(
    stand: Stand, store: Store, tmp_path: Path
) -> None:
    async with app_with(stand, store).run_test(size=(120, 30)) as pilot:
        await press(pilot, "p", "x")
        assert "holds 40 held notes" in await typed(pilot, tmp_path / "w.zip")
        await press(pilot, "r")
        assert "ready to be printed" in await typed(pilot, tmp_path / "lesson.html")
        await press(pilot, "r", "escape")
        assert "Practise as" not in screen_text(pilot)
    assert "wren: for the lesson" in (tmp_path / "lesson.html").read_text("utf-8")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["lesson.html", "w.zip"]


async def test_enter_practises_as_the_marked_player(stand: Stand, store: Store) -> None:
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        page = await press(pilot, "p", "down", "enter")
        assert "From now on heron practises on alto." in page
        assert stand.remembered[-1].practice.player == "heron"
        page = await press(pilot, "down", "enter")
        assert "From now on wren practises on tenor." in page


async def test_a_pupils_takes_can_be_looked_back_at(stand: Stand, store: Store) -> None:
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        assert "heron · alto" in await press(pilot, "p", "down", "v")
        assert "2 players" in await press(pilot, "escape")


async def test_players_are_told_apart_by_their_marks(stand: Stand, store: Store) -> None:
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        assert "○ wren ◆ heron" in await press(pilot, "p", "c")
        lines = screen_text(pilot).splitlines()
        (top,) = [line for line in lines if line.strip().startswith("D6")]
        assert top.index("◆") < top.index("○")
        assert "apart" in await press(pilot, "n")
        assert "Only one player" in await press(pilot, "escape", "down", "down", "c")


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)], ids=str)
async def test_the_pages_fit_every_window(
    stand: Stand, store: Store, size: tuple[int, int]
) -> None:
    async with app_with(stand, store).run_test(size=size) as pilot:
        for key in "pcn":
            await press(pilot, key)
            assert lines_without_room(pilot) == []


async def test_without_colour_the_pages_say_the_same(
    monkeypatch: pytest.MonkeyPatch, stand: Stand, store: Store
) -> None:
    async with app_with(stand, store).run_test(size=(80, 24)) as pilot:
        coloured = [await press(pilot, key) for key in "pc"]
        for widget in pilot.app.screen.query("*"):
            for line in range(widget.size.height):
                # a piece without a style breaks the terminal's colour filters
                assert all(piece.style is not None for piece in widget.render_line(line))
    monkeypatch.setenv("NO_COLOR", "1")
    async with app_with(Stand(), store).run_test(size=(80, 24)) as pilot:
        assert [await press(pilot, key) for key in "pc"] == coloured


async def test_without_a_record_the_page_says_so(stand: Stand) -> None:
    async with app_with(stand, None).run_test(size=(80, 24)) as pilot:
        assert "nobody to list" in await press(pilot, "p")
        await press(pilot, "i", "x", "r", "c", "enter", "down")
