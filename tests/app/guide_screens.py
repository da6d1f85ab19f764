"""Draws screens, key tables and printed lines of the documents with the program itself.

``python -m tests.app.guide_screens`` writes them anew after a change of the interface.
"""

import asyncio
import io
import os
import re
import time
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager, redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory

from textual.pilot import Pilot

from intonation.app import (
    check_keys,
    exercise_keys,
    first_run_keys,
    habit_keys,
    instrument_keys,
    keys,
    players_keys,
    practice_keys,
    sound_keys,
    take_keys,
    today_keys,
    trace_keys,
    workshop_keys,
)
from intonation.app.application import IntonationApp
from intonation.app.keys import Key
from intonation.cli.main import main
from intonation.practice.settings import PracticeSettings
from tests.app import (
    readme_pictures,
    test_check_pictures,
    test_first_run_page,
    test_habits_page,
    test_instruments_page,
    test_pictures,
    test_players_page,
    test_today_page,
    test_traces_page,
    test_workshop_pictures,
)
from tests.app.conftest import Stand, play_take, screen_text
from tests.app.test_check_pages import CheckStand
from tests.support.known_bench import known_bench
from tests.support.two_instruments import keep_two_instruments

Go = Callable[[Pilot[int]], Awaitable[None]]
PAGES = (
    test_pictures,
    test_traces_page,
    test_players_page,
    test_habits_page,
    test_today_page,
    test_first_run_page,
    test_instruments_page,
)
KEY_TABLES = (
    keys,
    practice_keys,
    take_keys,
    sound_keys,
    check_keys,
    exercise_keys,
    trace_keys,
    players_keys,
    habit_keys,
    today_keys,
    first_run_keys,
    instrument_keys,
    workshop_keys,
)
DOCUMENTS = sorted((Path(__file__).parents[2] / "docs").glob("**/*.md"))
DRAWN = re.compile(
    r"<!-- (?P<what>screen|keys|printed): (?P<name>\w+) -->\n"
    r"(?:\n(?:```text\n.*?\n```|\|.*?)\n(?=\n|\Z))?",
    re.DOTALL,
)


async def one_habit(stand: Stand, pilot: Pilot[int]) -> None:
    """Open one note of a player who has practised for weeks."""
    await test_habits_page.habits_page(stand, pilot)
    await test_habits_page.press(pilot, "enter")


async def leaking_take(stand: Stand, pilot: Pilot[int]) -> None:
    """End a take as an instrument plays it whose lowest holes do not close."""
    low = [(65, 26.0), (67, 9.0), (65, 12.0), (67, 22.0)]
    await play_take(stand, pilot, [*low, (72, 3.0), (77, 1.0), (72, -2.0), (77, 4.0)])
    await pilot.press("space")


DRAWN_HERE = {"one_habit": one_habit, "leaking_take": leaking_take}


PRINTED = {"consort": ("consort", "plum alto", "tenor")}


async def with_drawings(text: str) -> str:
    """Return a guide with every screen and key table as the program has it now."""
    drawings = [await _drawing(found["what"], found["name"]) for found in DRAWN.finditer(text)]
    pieces = iter(drawings)
    return DRAWN.sub(
        lambda found: f"<!-- {found['what']}: {found['name']} -->\n\n{next(pieces)}\n", text
    )


async def _drawing(what: str, name: str) -> str:
    if what == "keys":
        return _key_rows(name)
    if what == "printed":
        return _lines(PRINTED[name])
    with _in_utc():
        return await _screen(name)


@contextmanager
def _in_utc() -> Iterator[None]:
    """Let times stand on a screen as they do everywhere else."""
    before = os.environ.get("TZ")
    os.environ["TZ"] = "UTC"
    time.tzset()
    yield
    os.environ.pop("TZ")
    if before is not None:
        os.environ["TZ"] = before
    time.tzset()


async def _screen(name: str) -> str:
    app, go = way_to(name)
    async with app.run_test(size=(80, 24)) as pilot:
        await go(pilot)
        lines = [line.rstrip() for line in screen_text(pilot).splitlines()]
    return "\n".join(["```text", *lines, "```"])


def way_to(name: str) -> tuple[IntonationApp, Go]:
    """Return a program, and what brings a page onto its screen."""
    if hasattr(test_check_pictures, name):
        page = getattr(test_check_pictures, name)
        return CheckStand().app(), test_check_pictures.opening(page)
    if hasattr(test_workshop_pictures, name):
        page = getattr(test_workshop_pictures, name)
        bench = test_workshop_pictures.app_at(Stand(), known_bench())
        return bench, test_workshop_pictures.opening(page)
    stand = Stand()
    page = DRAWN_HERE.get(name) or next(
        getattr(home, name) for home in PAGES if hasattr(home, name)
    )
    return stand.app(PracticeSettings(player="wren")), test_pictures.opening(stand, page)


def _lines(typed: tuple[str, ...]) -> str:
    """Return what a command prints about a record of two instruments."""
    said = io.StringIO()
    with TemporaryDirectory() as folder, redirect_stdout(said):
        record = Path(folder) / "practice.sqlite"
        keep_two_instruments(record)
        main([*typed, "--record", str(record)])
    return f"```text\n{said.getvalue()}```"


def _key_table(name: str) -> tuple[Key, ...]:
    home = next(home for home in KEY_TABLES if hasattr(home, name))
    table: tuple[Key, ...] = getattr(home, name)
    return table


def _key_rows(name: str) -> str:
    rows = [f"| {key.shown} | {key.explanation} |" for key in _key_table(name)]
    return "\n".join(["| key | what it does |", "|---|---|", *rows])


async def _write() -> None:
    for document in DOCUMENTS:
        text = document.read_text("utf-8")
        drawn = await with_drawings(text)
        if drawn != text:
            document.write_text(drawn, "utf-8")
    readme_pictures.write_all()


if __name__ == "__main__":
    asyncio.run(_write())
