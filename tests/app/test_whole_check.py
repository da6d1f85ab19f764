"""A simulated player on the real engine, tracker, check and record, seen on the screen."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from intonation.app.application import IntonationApp, Surroundings
from intonation.app.screens.check import CheckPage
from intonation.app.screens.verdict import VerdictPage
from intonation.diagnosis.results import Experiment
from intonation.engine.check_bench import CheckBench
from intonation.engine.connections import StandIn
from intonation.engine.messages import EngineEvent, SoundSettings
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.app.conftest import screen_text, settled
from tests.app.test_whole_practice import until_page
from tests.engine.test_guided_check import CASE, SETTINGS, clock, simulated
from tests.support.in_process_engine import InProcessEngine

BOTH: Experiment = "natural and careful-swell"


def connect(sound: SoundSettings, heard: Callable[[EngineEvent], None]) -> InProcessEngine:
    def connection() -> StandIn:
        return simulated(0.0)()

    return InProcessEngine(connection, sound, heard)


async def test_every_tone_that_the_page_asks_for_is_heard_kept_and_judged(tmp_path: Path) -> None:
    with Store(tmp_path / "record.sqlite") as store:
        bench = CheckBench(store, clock())
        surroundings = Surroundings(
            connect=connect,
            remember=lambda _: None,
            begin_take=lambda _: None,
            keep=lambda _: None,
            end_take=lambda: None,
            checks=lambda: bench,
        )
        app = IntonationApp(
            surroundings,
            settings=PracticeSettings(player="wren"),
            sound=SoundSettings(simulated=True, headphones=True),
        )
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            await pilot.press("c")
            await settled(pilot)
            assert isinstance(app.screen, CheckPage)
            guided = bench.begin_again(SETTINGS, {74: BOTH}, np.random.default_rng(1))
            app.screen.desk.start(guided)
            await settled(pilot)
            await pilot.press("space")
            for _ in range(2000):
                if guided.checking.waiting:
                    break
                await pilot.pause(0.01)
            await pilot.press("space")
            await until_page(pilot, VerdictPage)
            await settled(pilot)
            assert "Of 1 note" in screen_text(pilot)
        app.sound_desk.link.close()
        natural, *_ = store.held_notes()
        assert natural.cents == pytest.approx(sum(CASE.parts_cents(74)), abs=4.0)
