"""A simulated player on the real engine, tracker, session and record, seen on the screen."""

from collections.abc import Callable
from pathlib import Path

from textual.pilot import Pilot

from intonation.app.application import IntonationApp, Surroundings
from intonation.app.screens.summary import SummaryPage
from intonation.engine.connecting import simulated_connection
from intonation.engine.connections import StandIn
from intonation.engine.messages import EngineEvent, SoundSettings
from intonation.engine.recorder import PracticeRecorder
from intonation.instruments.library import instrument_named
from intonation.pitch.notes import note_name
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of
from intonation.simulation.plan import long_tones
from intonation.simulation.player import SimulatedPlayer
from intonation.simulation.players import simulated_player
from intonation.store.store import Store
from tests.app.conftest import screen_text
from tests.engine.test_recorder import clock
from tests.support.in_process_engine import InProcessEngine

NOTES = (69, 72, 77)
SOUND = SoundSettings(simulated=True, headphones=True)
PATIENCE_PAUSES = 2000


def wren(settings: PracticeSettings, _synth: object) -> SimulatedPlayer:
    return simulated_player(
        "wren",
        instrument_named(settings.instrument),
        long_tones(NOTES, sounding_s=1.2),
        seed=4,
        a4_hz=settings.a4_hz,
        reference_hz=drone_of(settings).frequencies_hz,
    )


def connect(sound: SoundSettings, heard: Callable[[EngineEvent], None]) -> InProcessEngine:
    def connection() -> StandIn:
        return simulated_connection(sound, real_time=False, make_player=wren)

    return InProcessEngine(connection, sound, heard)


async def until_page(pilot: Pilot[int], page: type) -> None:
    for _ in range(PATIENCE_PAUSES):
        if isinstance(pilot.app.screen, page):
            return
        await pilot.pause(0.01)
    raise AssertionError(f"{page.__name__} did not come")


async def test_what_the_player_holds_is_scored_kept_and_summed_up(tmp_path: Path) -> None:
    moments = clock()
    with Store(tmp_path / "record.sqlite") as store:
        recorder = PracticeRecorder(store, session="evening", now=lambda: next(moments))
        surroundings = Surroundings(
            connect=connect,
            remember=lambda _: None,
            begin_take=recorder.begin_take,
            keep=recorder.keep,
            end_take=recorder.end_take,
        )
        app = IntonationApp(surroundings, settings=PracticeSettings(), sound=SOUND)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("space")
            await until_page(pilot, SummaryPage)
            await pilot.pause()
            page = screen_text(pilot)
        app.sound_desk.link.close()
        rows = list(store.held_notes())
        assert [row.midi for row in rows] == list(NOTES)
        for row in rows:
            assert f"{note_name(row.midi):<5}" in page
            assert f"{abs(row.cents):.1f}" in page
        assert store.takes()[0].held_notes == len(NOTES)
