"""How fast habits come from a record of 700,000 held notes, and the program opens with one."""

import time
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from intonation.engine.habit_record import HabitRecord
from intonation.practice.settings import PracticeSettings
from intonation.store.settings import RememberedSettings, write_settings
from intonation.store.store import Store
from tests.app.conftest import Stand, settled
from tests.support.long_record import INSTRUMENT, PLAYER, long_record
from tests.support.terminal import Terminal

HELD_NOTES = 700_000
NOW = datetime(2041, 3, 14, tzinfo=UTC)

START = """
import sys
from intonation.app.main import run_app
from intonation.engine.messages import SoundSettings
sys.exit(run_app(sound=SoundSettings(simulated=True, headphones=True)))
"""


@pytest.fixture(scope="module", params=[10.0, 2.0], ids=["ten years", "two years"])
def home(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home with the record of one player on one instrument, spread over so many years."""
    folder = tmp_path_factory.mktemp("home")
    write_settings(folder / "settings.toml", RememberedSettings())
    long_record(folder / "practice.sqlite", notes=HELD_NOTES, years=request.param)
    return folder


def test_habits_come_from_the_record(home: Path, benchmark: BenchmarkFixture) -> None:
    def look() -> int:
        with Store(home / "practice.sqlite") as store:
            return len(HabitRecord(store, lambda: NOW).habits(PLAYER, INSTRUMENT).spoken)

    assert benchmark(look) == 27


async def test_habits_are_drawn(home: Path) -> None:
    """From the key to the drawn picture, in the running program."""
    stand = Stand()
    with Store(home / "practice.sqlite") as store:
        app = stand.app(PracticeSettings(player=PLAYER))
        app.surroundings = replace(app.surroundings, habits=lambda: HabitRecord(store, lambda: NOW))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            took = []
            for _ in range(6):
                began = time.perf_counter()
                await pilot.press("b")
                while app.screen.habits is None:  # type: ignore[attr-defined]
                    await pilot.pause(0.002)
                await pilot.pause()
                took.append(time.perf_counter() - began)
                await settled(pilot)
                await pilot.press("escape")
    print("\nfrom the key to the picture:", *(f"{one:.3f} s" for one in took))


def test_the_program_opens(home: Path, benchmark: BenchmarkFixture) -> None:
    """From starting Python to the first page on a terminal."""

    def opened() -> None:
        with Terminal(START, home=home) as terminal:
            assert terminal.shows("Concert pitch")
            terminal.kill()

    benchmark.pedantic(opened, rounds=5, warmup_rounds=1)
