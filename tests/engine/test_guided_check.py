"""A guided check by a simulated player: engine, tracker, check and record are the real ones."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from intonation.diagnosis.attribution import unwatched
from intonation.diagnosis.results import Experiment
from intonation.engine.check_bench import CheckBench
from intonation.engine.check_offline import play_check
from intonation.engine.connecting import SIMULATED_RATE_HZ, simulated_connection
from intonation.engine.connections import StandIn
from intonation.engine.guided_check import GuidedCheck
from intonation.engine.messages import SoundSettings, ToneHeard
from intonation.errors import StoreError
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import shifted_hz
from intonation.pitch.notes import equal_tempered_hz
from intonation.practice.checking import CheckSettings, PlayedTone
from intonation.practice.settings import PracticeSettings
from intonation.practice.swell_steps import LevelStep
from intonation.simulation.check_player import CheckPlayer, check_case
from intonation.store.store import Store
from intonation.tracking.events import HeldNote
from intonation.words.check import ANOTHER_DAY

SETTINGS = CheckSettings(player="wren", instrument="pear alto", size="alto")
BOTH: Experiment = "natural and careful-swell"
SOUND = SoundSettings(simulated=True, headphones=True)
CASE = check_case(instrument_named("alto"), seed=3)


def clock(step: timedelta = timedelta(seconds=5)) -> Callable[[], datetime]:
    def moments() -> Iterator[datetime]:
        now = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
        while True:
            now += step
            yield now

    each = moments()
    return lambda: next(each)


def a_bench(store: Store | None = None) -> CheckBench:
    return CheckBench(store or Store(None), clock())


def simulated(slips: float) -> Callable[[], StandIn]:
    def player(settings: PracticeSettings) -> CheckPlayer:
        return CheckPlayer(
            CASE,
            rng=np.random.default_rng(5),
            a4_hz=settings.a4_hz,
            sample_rate_hz=SIMULATED_RATE_HZ,
            patient=False,
            slips=slips,
        )

    return lambda: simulated_connection(SOUND, real_time=False, make_check_player=player)


def rng() -> np.random.Generator:
    return np.random.default_rng(1)


def tone(midi: int, cents: float = 0.0) -> PlayedTone:
    hz = shifted_hz(equal_tempered_hz(midi, a4_hz=440.0), cents=cents)
    steps = tuple(LevelStep(hz, -30.0 + 2.0 * i) for i in range(6))
    return PlayedTone(HeldNote(0.0, 3.0, hz, 0.1, 1.0, 0.0, -24.0, 30.0), steps)


def answer(guided: GuidedCheck, *, cents: float = 0.0) -> None:
    """Play what is asked for."""
    asked = guided.checking.asked
    assert asked is not None
    guided.hear(ToneHeard(asked.number, tone(asked.midi, cents)))


def test_what_the_simulated_player_does_is_measured_and_kept() -> None:
    bench = a_bench()
    guided = bench.begin_again(SETTINGS, dict.fromkeys((74, 84), BOTH), rng())
    play_check(guided, simulated(0.0))
    rows = list(bench.store.held_notes(player="wren", instrument="pear alto"))
    for midi in (74, 84):
        instrument, breath, fingers = CASE.parts_cents(midi)
        (natural,) = (r for r in rows if r.midi == midi and r.kind == "natural")
        assert natural.cents == pytest.approx(instrument + breath + fingers, abs=4.0)
        swell = [r for r in rows if r.midi == midi and r.kind == "careful-swell"]
        levels = [r.level_db for r in swell if r.level_db is not None]
        rise = swell[-1].cents - swell[0].cents
        slope = CASE.recorder.cents_per_db[midi]
        assert rise / (levels[-1] - levels[0]) == pytest.approx(slope, rel=0.1)
        assert np.mean([r.cents for r in swell]) == pytest.approx(instrument, abs=4.0)
    assert all(row.blind and not row.reference for row in rows)


def test_a_player_who_slips_is_asked_again_and_the_slips_are_not_kept() -> None:
    bench = a_bench()
    guided = bench.begin_again(SETTINGS, {74: BOTH}, rng())
    play_check(guided, simulated(0.5))
    rows = list(bench.store.held_notes())
    assert {row.midi for row in rows} == {74}
    assert guided.checking.check.left_out == ()


def test_every_step_is_on_the_disk_before_the_next_one_is_asked_for() -> None:
    bench = a_bench()
    guided = bench.begin(SETTINGS, rng())
    guided.go_on()
    for count in range(1, 4):
        answer(guided)
        assert len(list(bench.store.held_notes())) == count


def test_a_check_that_was_broken_off_goes_on_with_the_rest_in_a_sitting_of_its_own() -> None:
    store = Store(None)
    guided = a_bench(store).begin(SETTINGS, rng())
    guided.go_on()
    for _ in range(5):
        answer(guided)
    guided.skip()
    later = CheckBench(store, clock(timedelta(days=1)))
    record = later.unfinished("wren", "pear alto")
    assert record is not None
    assert (record.settled, record.steps) == (6, 30)
    again = later.go_on(record, SETTINGS)
    assert again.checking.check.ahead == guided.checking.check.ahead
    again.go_on()
    answer(again)
    assert [s.held_notes for s in later.sessions("wren", "pear alto")] == [5, 1]


def test_a_check_that_is_played_through_or_begun_anew_cannot_be_gone_on_with() -> None:
    bench = a_bench()
    bench.begin(SETTINGS, rng())
    guided = bench.begin_again(SETTINGS, {74: "natural"}, rng())
    guided.go_on()
    while not guided.checking.finished:
        answer(guided)
    assert bench.unfinished("wren", "pear alto") is None


def test_a_tone_that_answers_an_earlier_question_does_not_count() -> None:
    guided = a_bench().begin(SETTINGS, rng())
    guided.go_on()
    asked = guided.checking.asked
    assert asked is not None
    answer(guided)
    guided.hear(ToneHeard(asked.number, tone(asked.midi)))
    assert guided.checking.check.done == 1


def test_a_step_that_the_record_refuses_counts_and_is_written_with_the_next_one() -> None:
    bench = a_bench()
    guided = bench.begin(SETTINGS, rng())
    guided.go_on()
    with bench.store.database.writing() as connection:
        connection.execute(
            "CREATE TRIGGER refusing BEFORE INSERT ON held_notes"
            " BEGIN SELECT RAISE(ABORT, 'refused'); END"
        )
    with pytest.raises(StoreError):
        answer(guided)
    with bench.store.database.writing() as connection:
        connection.execute("DROP TRIGGER refusing")
    answer(guided)
    assert [row.order for row in bench.store.held_notes()] == [1, 2]


def test_a_note_that_differs_between_the_passes_is_asked_for_once_more() -> None:
    bench = a_bench()
    guided = bench.begin(SETTINGS, rng())
    while not guided.checking.finished:
        if guided.checking.waiting:
            guided.go_on()
        asked, step = guided.checking.asked, guided.checking.check.step
        assert asked is not None
        assert step is not None
        habit = asked.midi == 84 and asked.manner == "as always"
        answer(guided, cents=15.0 if habit else 0.0)
    assert (step.pass_number, step.midi) == (2, 84)
    naturals = [r for r in bench.store.held_notes() if r.kind == "natural" and r.midi == 84]
    assert len(naturals) == 2
    assert bench.unfinished("wren", "pear alto") is None


def test_after_the_first_of_two_days_the_verdict_asks_for_the_second() -> None:
    bench = a_bench()
    for day in (1, 2):
        guided = bench.begin(replace(SETTINGS, form="thorough"), rng())
        while not guided.checking.finished:
            if guided.checking.waiting:
                guided.go_on()
            answer(guided)
        judged = bench.judge("wren", "pear alto", progress=unwatched)
        assert judged is not None
        assert (ANOTHER_DAY in judged.also) == (day == 1)


def test_the_sides_of_a_change_are_sittings_of_their_own() -> None:
    bench = a_bench()
    guided = bench.begin(replace(SETTINGS, form="off and on"), rng(), notes=(70, 72))
    while not guided.checking.finished:
        if guided.checking.waiting:
            guided.go_on()
        answer(guided)
    names = [record.session for record in bench.sessions("wren", "pear alto")]
    assert [name.split(" check ")[1] for name in names] == ["off 1", "on 1", "off 2", "on 2"]


def test_measuring_again_soon_after_belongs_to_the_same_sitting() -> None:
    bench = a_bench()
    for _ in range(2):
        guided = bench.begin_again(SETTINGS, {74: BOTH}, rng())
        while not guided.checking.finished:
            if guided.checking.waiting:
                guided.go_on()
            answer(guided)
        bench.left(guided)
    rows: list[HeldNoteRow] = list(bench.store.held_notes())
    assert len({row.session for row in rows}) == 1
    swells = {row.swell for row in rows if row.kind == "careful-swell"}
    assert len(swells) == 2
