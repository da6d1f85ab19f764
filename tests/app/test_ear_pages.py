"""The ear drills on the screen: a sound, an answer by number, every answer kept, a result."""

import itertools
from collections import Counter
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field, replace
from datetime import datetime

import numpy as np
import pytest
from textual.pilot import Pilot

from intonation.app.application import IntonationApp
from intonation.app.ear_choices import ear_choices
from intonation.app.ear_drill import drill_intervals
from intonation.app.ear_keys import DRILL, EAR, RESULT, TUNING
from intonation.app.keys import EVERYWHERE, Key
from intonation.app.screens.ear import EarPage
from intonation.app.screens.ear_drill import EarDrillPage
from intonation.app.screens.ear_result import EarResultPage
from intonation.app.screens.ear_tuning import NOTES_IN_BLOCK, EarTuningPage
from intonation.engine.messages import PlaySound, SetLoudness, SoundFault, SoundPlayed
from intonation.listening.block import BlockResult
from intonation.listening.drill import drills
from intonation.listening.history import kept
from intonation.listening.questions import sharp_or_flat
from intonation.listening.steps import learned
from intonation.listening.threshold import belief_before, estimate
from intonation.listening.trials import Answer, Condition
from intonation.practice.ear_choices import EAR_DRILLS, EarChoices
from intonation.practice.settings import PracticeSettings
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.store import Store
from tests.app.conftest import Stand, press, screen_text, settled
from tests.support.ears import ALTO_EAR

SETTINGS = PracticeSettings(player="wren")
PAGES = {"ear": EAR, "drill": DRILL, "tuning": TUNING, "result": RESULT}


@dataclass(slots=True)
class EarStand(Stand):
    """An interface whose ear answers go into a record in memory."""

    store: Store = field(default_factory=lambda: Store(None))

    @property
    def answers(self) -> ListeningAnswers:
        return ListeningAnswers(self.store.database)

    def app(self, settings: PracticeSettings | None = None, **others: object) -> IntonationApp:
        app = Stand.app(self, settings or SETTINGS, **others)  # type: ignore[arg-type]
        app.surroundings = replace(app.surroundings, ear_answers=lambda: self.answers)
        return app

    @property
    def sounds(self) -> list[PlaySound]:
        return [each for each in self.engine.commands if isinstance(each, PlaySound)]

    async def heard_out(self, pilot: Pilot[int]) -> None:
        """Let the sound end."""
        self.engine.heard(SoundPlayed())
        await settled(pilot)


@pytest.fixture
def ears() -> EarStand:
    return EarStand()


async def started(ears: EarStand, pilot: Pilot[int], **chosen: object) -> None:
    """Open the drill that was chosen and wait for its first sound."""
    await pilot.press("l")
    await settled(pilot)
    pilot.app.ear.choices = EarChoices(**chosen)
    await pilot.press("space")
    await settled(pilot)


@pytest.mark.parametrize("keys", PAGES.values(), ids=PAGES)
def test_no_key_does_two_things_and_the_key_line_fits_eighty_columns(
    keys: tuple[Key, ...],
) -> None:
    counted = Counter(key for entry in (*keys, *EVERYWHERE) for key in entry.keys)
    assert max(counted.values()) == 1
    shown = [key for key in (*keys, *EVERYWHERE) if key.in_key_line]
    line = "   ".join(f"{key.shown_with_pair or key.shown} {key.label}" for key in shown)
    assert len(line) <= 76


async def test_a_trial_sounds_and_its_answer_is_kept_before_the_next_one(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot)
        assert isinstance(pilot.app.screen, EarDrillPage)
        assert len(ears.sounds) == 1
        samples = ears.sounds[0].samples
        assert samples.dtype == np.float32
        assert np.abs(samples).max() > 0.01
        assert any(isinstance(each, SetLoudness) for each in ears.engine.commands)
        await press(pilot, "1")
        (kept,) = ears.answers.answers("wren")
        assert kept.choice == "flat"
        assert len(ears.sounds) == 1
        page = screen_text(pilot)
        assert "cents" in page
        assert "beat" in page
        assert "1 answer ·" in page  # counted at once, not with the next one
        await ears.heard_out(pilot)
        assert len(ears.sounds) == 1  # the player is still reading
        await press(pilot, "space")
        assert len(ears.sounds) == 2


async def test_nothing_tells_the_deviation_while_a_trial_sounds(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot)
        page = screen_text(pilot)
        assert "1 flat     2 sharp" in page
        assert "cents" not in page
        await press(pilot, "9")  # no such answer
        assert ears.answers.answers("wren") == ()


async def test_in_summary_the_next_trial_follows_by_itself_and_nothing_is_told(
    ears: EarStand,
) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot, feedback="in summary")
        await ears.heard_out(pilot)
        await press(pilot, "2")
        assert len(ears.sounds) == 2
        assert "cents" not in screen_text(pilot)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, EarResultPage)
        assert "cents" in screen_text(pilot)


async def test_answering_while_it_sounds_waits_for_the_end_of_the_sound(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot, feedback="in summary")
        await press(pilot, "1")
        assert len(ears.sounds) == 1
        await ears.heard_out(pilot)
        assert len(ears.sounds) == 2


async def test_a_block_ends_in_time_with_the_result_and_published_limens(
    ears: EarStand, monkeypatch: pytest.MonkeyPatch
) -> None:
    # a listener who thinks for fifteen seconds about each of nine answers or so
    clock = itertools.count(0.0, 15.0)
    monkeypatch.setattr("intonation.app.screens.ear_drill.monotonic", lambda: next(clock))
    async with ears.opened(size=(80, 40)) as pilot:
        await started(ears, pilot, minutes=3, interval="fifth", register="high")
        page = pilot.app.screen
        assert isinstance(page, EarDrillPage)
        while isinstance(pilot.app.screen, EarDrillPage):
            assert page.block is not None
            trial = page.block.trial
            assert trial is not None
            hears = abs(trial.deviation_cents) > 6.0
            await press(pilot, str(trial.choices.index(trial.right) + 1 if hears else 1))
            await ears.heard_out(pilot)
            await press(pilot, "space")
        text = screen_text(pilot)
        assert "Fifth, high register: threshold" in text
        assert "Vos" in text
        assert "75 %" in text
        assert 8 <= len(ears.answers.answers("wren")) <= 20


async def test_results_stand_under_the_choices_next_time(ears: EarStand) -> None:
    async with ears.opened(size=(80, 40)) as pilot:
        await started(ears, pilot)
        await press(pilot, "1", "escape", "escape")
        assert isinstance(pilot.app.screen, EarPage)
        assert "1 answer, too few to tell" in screen_text(pilot)


async def test_a_note_is_tuned_by_keys_without_a_reading_and_then_told(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot, drill="tune it", interval="octave", register="low")
        page = pilot.app.screen
        assert isinstance(page, EarTuningPage)
        assert page.note is not None
        start_cents = page.note.cents
        await press(pilot, "up", "right", "h")
        assert page.note.cents > start_cents
        assert len(ears.sounds) == 4
        assert "cents" not in screen_text(pilot)
        await press(pilot, "space")
        (kept,) = ears.answers.tuned("wren")
        assert kept.note.start_cents == start_cents
        assert kept.note.final_cents == page.note.cents
        assert "cents" in screen_text(pilot)


async def test_tuning_by_ear_ends_with_mean_and_spread(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(
            ears, pilot, drill="tune it", interval="fifth", register="low", feedback="in summary"
        )
        await press(pilot, *["space"] * NOTES_IN_BLOCK)
        assert isinstance(pilot.app.screen, EarResultPage)
        text = screen_text(pilot)
        assert "on average" in text
        assert "spread" in text


async def test_leaving_a_drill_leaves_no_sound_behind(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot)
        await press(pilot, "escape")
        assert np.abs(ears.sounds[-1].samples).max() == 0.0


async def test_after_a_fault_of_the_sound_the_trial_can_be_heard_again(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot)
        ears.engine.heard(SoundFault("The headphones are gone.", "Plug them in.", fatal=False))
        await settled(pilot)
        await press(pilot, "space")
        assert len(ears.sounds) == 2
        await press(pilot, "1")
        assert len(ears.answers.answers("wren")) == 1


async def test_a_record_that_refuses_is_said_and_the_drill_goes_on(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot)
        with ears.store.database.writing() as connection:
            connection.execute("DROP TABLE listening_answers")
        assert "cannot be used (no such table" in await press(pilot, "1")
        await ears.heard_out(pilot)
        await press(pilot, "space")
        assert len(ears.sounds) == 2


@pytest.mark.parametrize(
    "drill",
    ["which is in tune", "find the culprit", "difference tone", "remember", "which note"],
)
async def test_every_drill_opens_and_takes_an_answer(ears: EarStand, drill: str) -> None:
    async with ears.opened() as pilot:
        await started(ears, pilot, drill=drill, versions=3)
        assert len(ears.sounds) == 1
        await press(pilot, "2")
        (kept,) = ears.answers.answers("wren")
        assert kept.condition.drill == drill


@pytest.mark.parametrize(
    ("drill", "told"),
    [
        ("which way", "The answer is"),
        ("difference tone", "the low hum is the root again"),
        ("tune it", "it stands still"),
    ],
)
async def test_an_example_sounds_and_is_told_without_being_asked(
    ears: EarStand, drill: str, told: str
) -> None:
    async with ears.opened() as pilot:
        await press(pilot, "l")
        pilot.app.choose_ear(EarChoices(drill=drill))
        await press(pilot, "h")
        assert len(ears.sounds) == 1
        assert told in " ".join(screen_text(pilot).split())
        assert ears.answers.answers("wren") == ()


async def test_the_page_says_what_is_next_and_the_result_when_it_is_due_again(
    ears: EarStand,
) -> None:
    async with ears.opened() as pilot:
        await press(pilot, "l")
        assert "Next: unison, low register; unison, high register." in screen_text(pilot)
        await press(pilot, "space", "1", "escape")
        assert "Due again: unison" in screen_text(pilot)
        assert "tomorrow" in screen_text(pilot)


async def test_notes_tuned_before_stand_under_the_choices(ears: EarStand) -> None:
    async with ears.opened(size=(120, 40)) as pilot:
        await started(
            ears, pilot, drill="tune it", interval="fifth", register="low", feedback="in summary"
        )
        await press(pilot, *["space"] * NOTES_IN_BLOCK, "escape")
        assert isinstance(pilot.app.screen, EarPage)
        assert "fifth, low register" in screen_text(pilot)
        assert "on average" in screen_text(pilot)


async def test_what_was_chosen_is_remembered_for_the_next_sitting(ears: EarStand) -> None:
    async with ears.opened() as pilot:
        await press(pilot, "l", "right", "down", "down", "right")
    remembered = ears.remembered[-1].ear
    assert (remembered.drill, remembered.register) == ("which is in tune", "low")


def test_every_drill_can_be_remembered_by_its_name() -> None:
    assert {*EAR_DRILLS} == {*drill_intervals(SETTINGS)}


def test_every_choice_can_be_stepped_through_and_is_explained() -> None:
    chosen = EarChoices()
    for line in ear_choices(drill_intervals(SETTINGS)):
        assert line.stepped is not None
        for _ in range(12):
            chosen = line.stepped(chosen, 1)
            assert line.shown(chosen)
            assert line.explained(chosen)


SIZES = [(80, 24), (120, 40)]
Open = Callable[[EarStand, Pilot[int]], Awaitable[None]]


async def chosen_page(_: EarStand, pilot: Pilot[int]) -> None:
    await press(pilot, "l")


UNISON = Condition(drill="which way", interval="unison", register="low")
HEARD_CENTS = (14.0, -14.0, 8.0, -8.0, 5.0, -5.0, 3.0, -3.0, 4.0, 2.0, -2.0, 6.0, 1.0, -4.0)
"""Deviations that were answered as by one to whom 3 cents sharp sounds in tune."""


async def page_with_results(ears: EarStand, pilot: Pilot[int]) -> None:
    for cents in HEARD_CENTS:
        ears.answers.add("wren", kept(answer_to(cents), answered_at=datetime.now().astimezone()))
    await press(pilot, "l")


def answer_to(cents: float) -> Answer:
    rng = np.random.default_rng(5)
    trial = drills(ALTO_EAR)["which way"].trial(UNISON, cents, rng)
    return Answer(trial=trial, choice="sharp" if cents > 3.0 else "flat")


async def example(_: EarStand, pilot: Pilot[int]) -> None:
    await press(pilot, "l", "right", "right", "right", "h")


async def drill_page(ears: EarStand, pilot: Pilot[int]) -> None:
    await started(ears, pilot, drill="find the culprit")


async def tuning_page(ears: EarStand, pilot: Pilot[int]) -> None:
    await started(ears, pilot, drill="tune it", interval="octave", register="low")


async def result_page(_: EarStand, pilot: Pilot[int]) -> None:
    answers = tuple(map(answer_to, HEARD_CENTS))
    belief = belief_before(sharp_or_flat())
    for answer in answers:
        belief = learned(belief, answer)
    result = BlockResult(answers=answers, estimates={UNISON: estimate(belief)})
    chosen = EarChoices(feedback="in summary")
    await pilot.app.push_screen(EarResultPage(chosen, block=result))
    await settled(pilot)


async def tuned_result_page(ears: EarStand, pilot: Pilot[int]) -> None:
    await started(
        ears, pilot, drill="tune it", interval="fifth", register="low", feedback="in summary"
    )
    await press(pilot, *["space"] * NOTES_IN_BLOCK)


PICTURED = (
    chosen_page,
    page_with_results,
    example,
    drill_page,
    tuning_page,
    result_page,
    tuned_result_page,
)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", PICTURED, ids=lambda page: page.__name__)
def test_every_page_of_the_ear_looks_as_it_was_designed(
    snap_compare: Callable[..., bool], page: Open, size: tuple[int, int]
) -> None:
    ears = EarStand()

    async def go(pilot: Pilot[int]) -> None:
        await settled(pilot)
        pilot.app.ear.rng = np.random.default_rng(5)
        await page(ears, pilot)

    assert snap_compare(ears.app(), terminal_size=size, run_before=go)


@pytest.mark.parametrize("page", [chosen_page, drill_page, tuning_page, result_page])
async def test_every_page_fits_the_smallest_terminal_and_needs_no_colour(
    monkeypatch: pytest.MonkeyPatch, page: Open
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    ears = EarStand()
    async with ears.opened() as pilot:
        await page(ears, pilot)
        lines = screen_text(pilot).splitlines()
        assert len(lines) == 24
        assert max(len(line.rstrip()) for line in lines) <= 80
        assert "Quit" in lines[-1]
        for widget in pilot.app.screen.query("*"):
            for line in range(widget.size.height):
                assert all(piece.style is not None for piece in widget.render_line(line))


@pytest.mark.parametrize("page", [chosen_page, drill_page, tuning_page, result_page])
async def test_help_explains_every_page_and_its_keys(ears: EarStand, page: Open) -> None:
    async with ears.opened(size=(120, 40)) as pilot:
        await page(ears, pilot)
        keys = pilot.app.screen.keys
        await press(pilot, "question_mark")
        text = screen_text(pilot)
        for key in keys:
            assert key.explanation in text
