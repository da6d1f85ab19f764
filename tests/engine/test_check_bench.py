"""The verdict on a pair, from everything that the record has of players and instruments."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from intonation.acoustics.alterations import Alteration
from intonation.diagnosis.attribution import unwatched
from intonation.engine.check_bench import CheckBench, Judged
from intonation.engine.levers import repeated_spread
from intonation.heldnotes.row import HeldNoteRow
from intonation.listening.history import KeptAnswer
from intonation.listening.trials import Condition
from intonation.practice.settings import PracticeSettings
from intonation.store.details import HeldNoteDetails
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.store import Store
from tests.support.worlds import (
    NATURAL,
    USUAL,
    Instrument,
    Sitting,
    made_instrument,
    made_player,
)

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)


def pear_alto() -> Instrument:
    return made_instrument(np.random.default_rng(4), USUAL, "pear alto")


def play(store: Store, player: str, session: str, *, passes: str = "AB", seed: int = 0) -> None:
    rng = np.random.default_rng(seed)
    sitting = Sitting(
        USUAL, rng, made_player(rng, USUAL, player), pear_alto(), session, minutes=12.0
    ).begin()
    for letter in passes:
        sitting.play_pass(letter, NATURAL)
    for row in sitting.rows:
        store.add_held_note(row, held_at=EVENING)


def judged(store: Store, player: str = "wren") -> Judged:
    verdict = CheckBench(store, lambda: EVENING).judge(player, "pear alto", progress=unwatched)
    assert verdict is not None
    return verdict


def widths(verdict: Judged) -> float:
    notes = verdict.pair.notes
    return float(np.mean([note.instrument.high - note.instrument.low for note in notes]))


@pytest.fixture
def store() -> Store:
    return Store(None)


def test_a_teacher_s_check_of_the_instrument_makes_the_pupil_s_verdict_surer(store: Store) -> None:
    play(store, "wren", "first day", seed=2)
    alone = widths(judged(store))
    play(store, "heron", "lesson", seed=9)
    assert widths(judged(store)) < 0.9 * alone


def test_what_was_played_before_the_instrument_was_worked_on_does_not_count(store: Store) -> None:
    play(store, "wren", "first day")
    enlarged = Alteration(work="enlarge hole", amount_mm=0.1, hole="4", from_mm=5.0, to_mm=5.1)
    store.trials.log(
        [enlarged],
        player="wren",
        instrument="pear alto",
        made_at=EVENING + timedelta(hours=1),
        predicted_cents={},
    )
    bench = CheckBench(store, lambda: EVENING)
    assert bench.judge("wren", "pear alto", progress=unwatched) is None


def test_a_sitting_counts_a_swell_as_one_tone(store: Store) -> None:
    play(store, "wren", "first day", passes="B")
    (sitting,) = CheckBench(store, lambda: EVENING).sessions("wren", "pear alto")
    assert sitting.held_notes == 2 * len(NATURAL)


def test_without_ear_drills_the_verdict_says_what_is_missing_for_the_third_lever(
    store: Store,
) -> None:
    play(store, "wren", "first day")
    (*_, levers) = judged(store).also
    assert "a threshold of your ear" in levers
    assert "4 more notes held against the drone" in levers


def test_with_drills_and_matched_notes_ear_breath_and_instrument_are_weighed(store: Store) -> None:
    play(store, "wren", "first day", passes="ABA")
    rng = np.random.default_rng(3)
    answers = ListeningAnswers(store.database)
    for number in range(40):
        answers.add("wren", heard(float(rng.normal(0.0, 8.0)), number))
    for midi in NATURAL[:6]:
        hold_to_drone(store, midi, cents=float(rng.normal(0.0, 4.0)))
    (*_, levers) = judged(store).also
    assert "Against a sounding reference: the ear by" in levers
    assert "a model estimate" in levers


def heard(off_cents: float, number: int) -> KeptAnswer:
    """An ear that hears everything beyond a cent or two."""
    side = "sharp" if off_cents > 0.0 else "flat"
    return KeptAnswer(
        condition=Condition(drill="which way", interval="fifth"),
        answered_at=EVENING + timedelta(seconds=number),
        step_cents=off_cents,  # with its sign, as the drill keeps it
        deviation_cents=off_cents,
        choices=2,
        choice=side,
        right=side,
    )


def hold_to_drone(store: Store, midi: int, *, cents: float) -> None:

    settings = PracticeSettings(player="wren", instrument="pear alto")
    take = store.begin_take("evening", settings=settings, began_at=EVENING)
    hz = 440.0 * 2.0 ** ((midi - 69) / 12.0)
    row = HeldNoteRow(
        event=0,
        player="wren",
        instrument="pear alto",
        session="evening",
        midi=midi,
        kind="matched",
        reference=True,
        cents=cents,
    )
    store.add_held_note(row, details=HeldNoteDetails(target_hz=hz), take=take)


def test_the_spread_of_repeated_tones_is_that_of_a_worked_example() -> None:
    # Deviations of 3 in each of four pairs about their middle: the sum of squares is
    # 4 (3^2 + 3^2) = 72 over 4 degrees of freedom (the textbook pooled variance).
    rows = [
        HeldNoteRow(event=0, player="p", instrument="i", session="s", midi=midi, cents=cents)
        for midi in (70, 72, 74, 76)
        for cents in (midi - 3.0, midi + 3.0)
    ]
    spread = repeated_spread(rows)
    assert spread is not None
    assert spread.mean == pytest.approx(72.0**0.5 / 2.0)
    assert repeated_spread(rows[:6]) is None
