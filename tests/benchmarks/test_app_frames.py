"""How long the interface takes to redraw: it must stay far below what a reading allows."""

from pytest_benchmark.fixture import BenchmarkFixture
from textual.geometry import Region
from textual.widgets import Static

from intonation.app.printing.card import card
from intonation.engine.messages import SoundSettings, StartTake
from intonation.practice.events import PitchRevealed
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import TAKE_NOTES, Stand, play_take
from tests.support.scripted_engine import ScriptedEngine


async def test_a_revealed_pitch_is_drawn_within_two_milliseconds(
    benchmark: BenchmarkFixture,
) -> None:
    stand = Stand()
    async with stand.opened(size=(120, 40)) as pilot:
        await play_take(stand, pilot, TAKE_NOTES)
        await pilot.press("r")
        page = pilot.app.screen
        place = page.query_one("#reading", Static)
        target = stand.engine.notes[-1].target
        cents = iter(range(10**9))

        def frame() -> None:
            page.hear(PitchRevealed(3.0, target, next(cents) % 90 - 45.0))
            place.render_lines(Region(0, 0, *place.size))

        benchmark(frame)


def test_a_card_is_printed_within_two_milliseconds(benchmark: BenchmarkFixture) -> None:
    engine = ScriptedEngine(SoundSettings(), lambda _: None)
    engine.send(StartTake(PracticeSettings()))
    note = engine.end_note(81, 14.2)
    benchmark(lambda: card(note, width=100))
