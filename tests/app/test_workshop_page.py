"""In the interface a faulty instrument leads to cause, prediction, trial and proof."""

from datetime import UTC, datetime, timedelta
from importlib import resources
from pathlib import Path

import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.stand_in import TWO_FAULTS, on_the_alto_with_two_faults
from intonation.engine.messages import SoundSettings
from intonation.engine.workbench import Workbench
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.practice.settings import SIMULATED_PLAYER, PracticeSettings
from intonation.store.own_geometries import OwnGeometries
from intonation.store.store import Store
from intonation.words.workshop import work_in_words
from tests.app.conftest import Stand, play_take, screen_text, settled
from tests.support.faulty_alto import PLAYER, FaultyAlto, faulty_alto
from tests.support.known_bench import known_bench, known_examination

ALTO = (resources.files("intonation.acoustics") / "data" / "alto.toml").read_text("utf-8")
EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)


class Bench:
    """A record with one check of the faulty alto, and a clock that a test moves."""

    def __init__(self) -> None:
        self.now = EVENING
        self.store = Store(None)
        self.alto: FaultyAlto = faulty_alto(3, wide_cents=24.0)
        self.alto.instrument.name = "alto"
        self.workbench = Workbench(self.store, lambda: self.now)

    def check(self, session: str) -> None:
        for row in self.alto.check(session, "AB"):
            self.store.add_held_note(row, held_at=self.now)
        self.now += timedelta(hours=1)

    def app(self, stand: Stand) -> IntonationApp:
        settings = PracticeSettings(player=PLAYER, instrument="alto")
        return stand.app(settings, workbench=lambda: self.workbench)


@pytest.fixture
def bench() -> Bench:
    return Bench()


def page_text(pilot: Pilot[int]) -> str:
    return " ".join(screen_text(pilot).split())


async def test_a_player_is_led_from_the_cause_to_the_proof(stand: Stand, bench: Bench) -> None:
    bench.check("first day")
    async with bench.app(stand).run_test(size=(100, 60)) as pilot:
        await settled(pilot)
        await pilot.press("w")
        await settled(pilot)
        assert "octaves too wide" in page_text(pilot)
        assert "reversible work first" in page_text(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert "This can be undone." in page_text(pilot)
        assert "○ now ● predicted" in page_text(pilot)
        await pilot.press("enter", *"baking paper", "enter")
        await settled(pilot)
        assert "baking paper" in page_text(pilot)
        assert "Nothing to compare yet." in page_text(pilot)
        (trial,) = bench.workbench.trials()
        bench.now += timedelta(hours=1)
        bench.alto.alter(trial.alterations)
        bench.check("second day")
        await pilot.press("escape")
        await settled(pilot)
        await pilot.press("t")
        await settled(pilot)
        assert "Proven: all notes together moved" in page_text(pilot)
        await pilot.press("u")
        await settled(pilot)
        assert "Undone" in page_text(pilot)
        assert bench.workbench.trials()[0].undone_at is not None


async def test_another_amount_is_predicted_before_anything_is_done(
    stand: Stand, bench: Bench
) -> None:
    bench.check("first day")
    async with bench.app(stand).run_test(size=(100, 60)) as pilot:
        await settled(pilot)
        await pilot.press("w")
        await settled(pilot)
        await pilot.press("down", "enter")
        await settled(pilot)
        before = page_text(pilot)
        await pilot.press("left")
        await settled(pilot)
        assert page_text(pilot) != before
        await pilot.press("escape", "escape")
        await settled(pilot)
        assert bench.workbench.trials() == ()


async def test_every_page_from_the_cause_to_the_proof_says_what_comes_next(
    stand: Stand, bench: Bench
) -> None:
    bench.check("first day")
    async with bench.app(stand).run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        for keys, told in (
            (["w"], "Next: Enter shows what the marked work would do."),
            (["enter"], "Next: do the work, then say so with Enter."),
            (["enter", "enter"], "Next: C plays the check again, with the work as it is now."),
            (["escape"], "Next: C plays the check again, with the work as it is now."),
        ):
            await pilot.press(*keys)
            await settled(pilot)
            assert told in page_text(pilot)
        bench.now += timedelta(hours=1)
        bench.alto.alter(bench.workbench.trials()[0].alterations)
        bench.check("second day")
        for keys, told in (
            (["escape", "w"], "Next: T shows what the trial did to every note."),
            (["t"], "Next: leave it, or undo it and say so with U."),
            (["u"], "Next: Esc leads back to the workshop"),
        ):
            await pilot.press(*keys)
            await settled(pilot)
            assert told in page_text(pilot)


async def test_a_simulated_alto_can_be_learnt_on_and_answers_to_work(
    stand: Stand, bench: Bench
) -> None:
    async with bench.app(stand).run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("w")
        await settled(pilot)
        assert "L lets you learn this on a simulated alto" in page_text(pilot)
        await pilot.press("l")
        await settled(pilot)
        assert f"{SIMULATED_PLAYER} · {TWO_FAULTS}" in page_text(pilot)
        assert stand.engine.sound.two_faults
        strip = known_examination().works[0]
        bench.workbench.log(SIMULATED_PLAYER, TWO_FAULTS, strip)
        await pilot.press("l", "l")
        await settled(pilot)
        assert stand.engine.sound.work == strip.alterations
        await pilot.press("t", "u")
        await settled(pilot)
        assert stand.engine.sound.work == ()
        await pilot.press("escape", "l")
        await settled(pilot)
        assert f"{PLAYER} · alto" in page_text(pilot)
        assert not stand.engine.sound.simulated
        assert stand.remembered[-1].practice.instrument == "alto"


async def test_a_demonstration_that_begins_on_the_simulated_alto_leads_back_to_a_usual_one(
    stand: Stand, bench: Bench
) -> None:
    settings = on_the_alto_with_two_faults(PracticeSettings())
    app = stand.app(settings, workbench=lambda: bench.workbench)
    app.sound = SoundSettings(simulated=True, two_faults=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("w", "l")
        await settled(pilot)
        assert (app.settings.player, app.settings.instrument) == ("player", "alto")
        assert "player · alto" in page_text(pilot)


async def test_marked_work_stays_on_the_smallest_screen(stand: Stand) -> None:
    app = stand.app(PracticeSettings(player=PLAYER, instrument="alto"), workbench=known_bench)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("w")
        await settled(pilot)
        for work in known_examination().works[1:]:
            await pilot.press("down")
            await settled(pilot)
            (marked,) = [line for line in screen_text(pilot).splitlines() if "▸" in line]
            assert work_in_words(work.alterations).startswith(marked.strip(" ▸").split("(")[0][:30])


async def test_without_notes_the_page_says_what_to_play(stand: Stand, bench: Bench) -> None:
    async with bench.app(stand).run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("w")
        await settled(pilot)
        assert "Play the instrument check" in page_text(pilot)
        await pilot.press("t")
        await settled(pilot)
        assert "Nothing was tried yet." in page_text(pilot)


async def test_without_a_record_the_page_says_so(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("w")
        await settled(pilot)
        assert "No practice record is at hand" in page_text(pilot)


async def test_a_makers_own_dimensions_are_used_and_remembered(
    stand: Stand, bench: Bench, tmp_path: Path
) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(ALTO.replace("diameter_mm = 5.47", "diameter_mm = 5.20"), "utf-8")
    remembered = OwnGeometries(tmp_path / "home" / "geometries.toml")
    bench.workbench.geometries = remembered
    async with bench.app(stand).run_test(size=(100, 30)) as pilot:
        await settled(pilot)
        await pilot.press("w", "d", *str(mine), "enter")
        await settled(pilot)
        assert "wren · alto · own dimensions" in page_text(pilot)
    assert bench.workbench.compass("alto").geometry.hole("4").diameter_mm == 5.2
    assert remembered.file_of("alto") == mine
    assert remembered.file_of("tenor") is None


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("[[hole]]", "[[hollow]]", "there is no [[hole]] table"),
        ('name = "3"', 'name = "thumb"', 'no hole "thumb"'),
        ("window_mm = 45.80", "window_mm = 4580", "do not play the notes"),
    ],
)
async def test_a_mistake_in_the_dimensions_is_explained_and_nothing_changes(
    stand: Stand, bench: Bench, tmp_path: Path, old: str, new: str, told: str
) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(ALTO.replace(old, new), "utf-8")
    bench.workbench.geometries = OwnGeometries(tmp_path / "geometries.toml")
    async with bench.app(stand).run_test(size=(100, 30)) as pilot:
        await settled(pilot)
        await pilot.press("w", "d", *str(mine), "enter")
        await settled(pilot)
        assert told in page_text(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert told not in page_text(pilot)
    assert bench.workbench.own_file("alto") is None


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
async def test_every_note_of_every_instrument_is_on_the_fingering_page(
    stand: Stand, name: str
) -> None:
    async with stand.opened(PracticeSettings(instrument=name), size=(80, 50)) as pilot:
        await pilot.press("f")
        await settled(pilot)
        text = screen_text(pilot)
        instrument = instrument_named(name)
        assert text.count("│") >= 2 * len(instrument.notes_midi)


async def test_the_marked_note_is_shown_with_other_fingerings_and_sources(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("f", *["down"] * 7)
        await settled(pilot)
        text = page_text(pilot)
        assert "Bb4 0 123 4-67" in text
        assert "+20 cents" in text
        assert "German fingering" in text
        assert "B. Blood" in text


async def test_the_arrows_show_the_whole_chart_in_another_system(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("f", *["down"] * 7, "right")
        await settled(pilot)
        text = page_text(pilot)
        assert "alto or treble (F4), German fingering" in text
        assert "Bb4 0 123 4---" in text
        assert "baroque (English) fingering" in text
        await pilot.press("left", "left")
        await settled(pilot)
        assert "Bb4 0 123 4-6-" in page_text(pilot)


async def test_after_a_take_a_leak_is_suspected_where_low_notes_are_sharp_and_unsteady(
    stand: Stand,
) -> None:
    low = [(midi, cents) for midi in (65, 67, 69) for cents in (8.0, 20.0, 26.0)]
    async with stand.opened(size=(120, 40)) as pilot:
        await play_take(stand, pilot, [*low, (77, 1.0), (81, 0.0), (84, 2.0)])
        await pilot.press("space")
        await settled(pilot)
        assert "a finger or pad may leak" in page_text(pilot)
