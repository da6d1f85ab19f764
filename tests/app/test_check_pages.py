"""The instrument check on the screen: from the first choice to verdict and comparison."""

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.lettering import large
from intonation.app.screens.check_run import CheckRunPage
from intonation.diagnosis.check import AskedTone
from intonation.engine.check_bench import CheckBench
from intonation.engine.messages import (
    AskTone,
    CheckListening,
    EndTake,
    SoundCounters,
    SoundFault,
    StartCheck,
    ToneHeard,
)
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import shifted_hz
from intonation.pitch.notes import equal_tempered_hz, note_name
from intonation.practice.checking import PlayedTone
from intonation.practice.settings import PracticeSettings
from intonation.practice.swell_steps import LevelStep
from intonation.report.fingering_chart import drawn
from intonation.store.store import Store
from intonation.tracking.events import HeldNote
from intonation.words.diagnosis import give_or_take
from tests.app.conftest import Stand, screen_text, settled
from tests.support.worlds import NATURAL, USUAL, Sitting, made_instrument, made_player

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)


def moments() -> Iterator[datetime]:
    now = EVENING
    while True:
        now += timedelta(seconds=6)
        yield now


@dataclass(slots=True)
class CheckStand:
    """A record in memory, a clock that goes on by itself, and the scripted engine."""

    stand: Stand = field(default_factory=Stand)
    store: Store = field(default_factory=lambda: Store(None))
    clock: Iterator[datetime] = field(default_factory=moments)

    @property
    def bench(self) -> CheckBench:
        return CheckBench(self.store, lambda: next(self.clock))

    def app(self, *, theme: str | None = None) -> IntonationApp:
        settings = PracticeSettings(player="wren")
        return self.stand.app(settings, theme=theme, checks=lambda: self.bench)

    def earlier_check(self, session: str = "13 March", *, passes: str = "AB") -> None:
        """Let a simulated player have played a check whose notes are on file."""
        rng = np.random.default_rng(12)
        player, instrument = made_player(rng, USUAL, "wren"), made_instrument(rng, USUAL, "alto")
        rng = np.random.default_rng(len(list(self.store.held_notes())))
        sitting = Sitting(USUAL, rng, player, instrument, session, minutes=12.0).begin()
        for letter in passes:
            sitting.play_pass(letter, NATURAL)
        recorder = instrument_named("alto")
        for row in sitting.rows:
            fingering = recorder.fingering(row.midi)
            assert fingering is not None
            as_charted = replace(row, fingering=fingering.kind)
            self.store.add_held_note(as_charted, held_at=EVENING - timedelta(days=1))


def played(asked: AskedTone, cents: float) -> PlayedTone:
    hz = shifted_hz(equal_tempered_hz(asked.midi, a4_hz=440.0), cents=cents)
    steps = tuple(LevelStep(shifted_hz(hz, cents=4.0 * i), -34.0 + i) for i in range(-5, 6))
    return PlayedTone(HeldNote(0.0, 3.0, hz, 0.1, 1.0, 0.0, -24.0, 30.0), steps)


def answer(pilot: Pilot[int], *, off: int = 0, cents: float = 0.0) -> None:
    """Let the engine hear what the page asks for, or a note so many semitones off."""
    page = pilot.app.screen
    assert isinstance(page, CheckRunPage)
    asked = page.guided.checking.asked
    assert asked is not None
    tone = played(replace(asked, midi=asked.midi + off), cents)
    pilot.app.surroundings.connect.engine.heard(ToneHeard(asked.number, tone))


def page_text(pilot: Pilot[int]) -> str:
    return " ".join(screen_text(pilot).split())


def asked_now(stand: CheckStand) -> AskedTone | None:
    """Return what the engine was last told to listen for."""
    (*_, latest) = (c.asked for c in stand.stand.engine.commands if isinstance(c, AskTone))
    return latest


@pytest.fixture
def stand() -> CheckStand:
    return CheckStand()


async def begun(pilot: Pilot[int]) -> None:
    """Begin a short check with an order that is always the same."""
    await settled(pilot)
    await pilot.press("c")
    random.seed(4)
    await pilot.press("space")
    await settled(pilot)
    await pilot.press("space")
    await settled(pilot)


async def answered(pilot: Pilot[int], count: int = 1, *, cents: float = 0.0) -> None:
    for _ in range(count):
        answer(pilot, cents=cents)
        await pilot.pause()
    await settled(pilot)


async def in_second_pass(pilot: Pilot[int]) -> None:
    await begun(pilot)
    await answered(pilot, 15)
    await pilot.press("space")
    await settled(pilot)


async def test_space_begins_the_check_that_was_chosen_and_listens_without_a_reference(
    stand: CheckStand,
) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", *["down"] * 2, "right")
        assert "about 11 minutes" in page_text(pilot)
        await pilot.press("space")
        await settled(pilot)
        start = stand.stand.engine.commands[0]
        assert isinstance(start, StartCheck)
        assert start.settings.a4_hz == 440.0
        assert asked_now(stand) is None
        assert "Pass 1 of 3: As you always play" in page_text(pilot)
        await pilot.press("pagedown")
        await settled(pilot)
        assert asked_now(stand) == pilot.app.screen.guided.checking.asked
        assert stand.bench.known()[0].form == "standard"


async def test_another_player_on_an_instrument_with_a_name_of_its_own_is_kept_apart(
    stand: CheckStand,
) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("i", "a", *"pear alto", "enter", "escape")
        await pilot.press("c", "enter", *"heron", "enter", "space")
        await settled(pilot)
        (record,) = stand.bench.known()
        assert (record.player, record.instrument, record.size) == ("heron", "pear alto", "alto")
        assert pilot.app.settings.player == "wren"
        await pilot.press("escape", "escape", "c", "left")
        assert "heron" in page_text(pilot)


async def test_the_room_typed_before_a_check_is_remembered_for_practice(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", *["down"] * 5, "enter", *"17", "enter")
        await settled(pilot)
        assert stand.stand.remembered[-1].practice.temperature_c == 17.0
        await pilot.press("escape")
        await settled(pilot)
        assert "17 °C" in page_text(pilot)


async def test_nothing_on_the_page_moves_while_a_note_sounds(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        before = pilot.app.export_screenshot()
        for level_db in (-60.0, -30.0, -12.0):
            stand.stand.engine.heard(SoundCounters(10, 10, 0, 0, 0, level_db, None))
        await settled(pilot)
        assert pilot.app.export_screenshot() == before


async def test_what_is_shown_is_the_note_that_is_listened_for_with_its_fingering(
    stand: CheckStand,
) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        asked = asked_now(stand)
        assert asked is not None
        fingering = instrument_named("alto").fingering(asked.midi)
        assert fingering is not None
        assert drawn(fingering) in screen_text(pilot)
        assert large(note_name(asked.midi))[1] in screen_text(pilot)


async def test_another_note_is_named_and_is_asked_for_again_later(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        asked = asked_now(stand)
        assert asked is not None
        answer(pilot, off=2)
        await settled(pilot)
        assert f"That was {note_name(asked.midi + 2)}. The note comes again" in page_text(pilot)
        assert list(stand.store.held_notes()) == []


async def test_a_kept_note_is_on_the_record_and_the_progress_says_so(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await answered(pilot, 2)
        assert "Kept." in page_text(pilot)
        assert "2 of 30" in page_text(pilot)
        assert len(list(stand.store.held_notes())) == 2


async def test_in_a_pause_nothing_counts(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert asked_now(stand) is None
        assert "Paused" in page_text(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert asked_now(stand) is not None


async def test_while_the_help_lies_on_top_the_check_waits(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await pilot.press("question_mark")
        await settled(pilot)
        assert asked_now(stand) is None
        await pilot.press("escape")
        await settled(pilot)
        assert "Paused" in page_text(pilot)


async def test_a_verdict_that_nobody_waits_for_is_given_up(stand: CheckStand) -> None:
    stand.earlier_check()
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", "v", "escape")
        await settled(pilot)
        assert "Space begins the check" in page_text(pilot)


async def test_a_note_can_be_left_out_with_a_pedal(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await pilot.press("pageup")
        await settled(pilot)
        assert "Left out." in page_text(pilot)
        assert "1 of 30" in page_text(pilot)


async def test_with_exact_fingers_the_tone_is_held_and_then_grows(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await in_second_pass(pilot)
        assert "Fingers exact. Hold it evenly" in page_text(pilot)
        await answered(pilot)
        assert "Good. Now let it grow." in page_text(pilot)
        asked = asked_now(stand)
        assert asked is not None
        assert asked.manner == "swelled"


async def test_a_check_that_was_stopped_goes_on_from_the_first_page(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await answered(pilot, 3)
        await pilot.press("escape")
        await settled(pilot)
        assert isinstance(stand.stand.engine.commands[-1], EndTake)
        assert "broken off after 3 of 30 tones" in page_text(pilot)
        await pilot.press("space", "space")
        await settled(pilot)
        assert "3 of 30" in page_text(pilot)


async def test_when_the_sound_fails_the_check_waits_and_space_listens_again(
    stand: CheckStand,
) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        stand.stand.engine.heard(CheckListening(False))
        stand.stand.engine.heard(SoundFault("The microphone has stopped.", "Plug it in.", True))
        await settled(pilot)
        assert "The microphone has stopped." in page_text(pilot)
        assert "Space tries again" in page_text(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert sum(isinstance(c, StartCheck) for c in stand.stand.engine.commands) == 2


async def test_an_engine_that_ended_is_started_again_by_space(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        stand.stand.engine.die()
        await settled(pilot)
        assert "Space tries again" in page_text(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert len(stand.stand.sound.engines) == 2
        assert any(isinstance(c, StartCheck) for c in stand.stand.engine.commands)
        assert asked_now(stand) is not None


async def test_after_the_last_note_the_verdict_comes_by_itself(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await in_second_pass(pilot)
        await answered(pilot, 30)
        assert "Of 15 notes: 15 in tune." in page_text(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert "Space begins the check" in page_text(pilot)


async def test_one_key_measures_again_what_would_settle_most_and_judges_anew(
    stand: CheckStand,
) -> None:
    stand.earlier_check()
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", "v")
        await settled(pilot)
        planned = pilot.app.screen.found.again
        assert 0 < len(planned) <= 5
        await pilot.press("m")
        await settled(pilot)
        steps = pilot.app.screen.guided.checking.check.ahead
        assert {step.midi for step in steps} == set(planned)
        while isinstance(pilot.app.screen, CheckRunPage):
            if pilot.app.screen.guided.checking.waiting:
                await pilot.press("space")
            answer(pilot)
            await pilot.pause()
        await settled(pilot)
        assert "Of 15 notes" in page_text(pilot)


async def test_without_a_check_the_verdict_page_says_what_to_do(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", "v")
        await settled(pilot)
        assert "No check of this player on this instrument" in page_text(pilot)
        await pilot.press("m", "n", "i", "down")


async def test_chart_and_numbers_say_the_same_of_the_marked_note(stand: CheckStand) -> None:
    stand.earlier_check()
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", "v")
        await settled(pilot)
        page = pilot.app.screen
        note = page.found.pair.notes[page.at]
        name, size = note_name(note.midi), round(abs(note.total.mean))
        assert f"▸ {name}" in screen_text(pilot)
        assert f"{name}: {size} " in page_text(pilot)
        assert "a model estimate" in page_text(pilot)
        await pilot.press("n")
        await settled(pilot)
        assert give_or_take(note.instrument) in page_text(pilot)
        await pilot.press("i")
        await settled(pilot)
        assert "20 cents that breath can cover" in page_text(pilot)


async def test_a_change_is_proved_off_on_off_on_with_notes_of_one_s_own_choice(
    stand: CheckStand,
) -> None:
    stand.earlier_check()
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", *["down"] * 3, "enter", *"F4 A4 C5", "enter", "space")
        await settled(pilot)
        while isinstance(pilot.app.screen, CheckRunPage):
            checking = pilot.app.screen.guided.checking
            if checking.waiting:
                await pilot.press("space")
                await settled(pilot)
                continue
            changed = checking.check.step.pass_number % 2 and checking.asked.midi == 69
            answer(pilot, cents=18.0 if changed else 0.0)
            await pilot.pause()
        await settled(pilot)
        told = re.search(r"A4 \+(\d+) ", page_text(pilot))
        assert told is not None
        assert abs(int(told[1]) - 18) <= 3
        assert "1 changed" in page_text(pilot)


@pytest.mark.parametrize(
    ("typed", "said"),
    [("F2 A4 C5", "F2 is not on this instrument"), ("A4 C5", "Fewer than three notes")],
)
async def test_notes_that_cannot_be_compared_are_refused_in_a_sentence(
    stand: CheckStand, typed: str, said: str
) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", *["down"] * 3, "enter", *typed, "enter")
        assert said in page_text(pilot)


async def test_sittings_are_put_on_a_side_and_compared(stand: CheckStand) -> None:
    stand.earlier_check("1 March")
    stand.earlier_check("2 March")
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", "b")
        await settled(pilot)
        await pilot.press("a", "space")
        await settled(pilot)
        assert "Say of at least one sitting that it was before" in page_text(pilot)
        await pilot.press("b", "space")
        await settled(pilot)
        assert "Of 15 notes" in page_text(pilot)
        assert "changed, raised" not in page_text(pilot)


async def test_without_two_sittings_there_is_nothing_to_compare(stand: CheckStand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", "b", "b", "space")
        await settled(pilot)
        assert "no two sittings" in page_text(pilot)


async def test_without_a_record_there_is_no_check(stand: CheckStand) -> None:
    async with stand.stand.opened() as pilot:
        await pilot.press("c")
        await settled(pilot)
        assert "No practice record is at hand" in page_text(pilot)
