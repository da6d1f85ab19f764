"""The guided check: order, repeats, breaking off and going on."""

from dataclasses import replace

import numpy as np
import pytest

from intonation.diagnosis.check import (
    MOST_TRIES,
    AskedTone,
    Check,
    Fault,
    after_playing,
    fault_of,
    measure_again,
    new_check,
    off_and_on,
    skipped,
)
from intonation.diagnosis.results import Experiment
from intonation.heldnotes.row import HeldNoteRow
from tests.support.worlds import CHROMATIC

BOTH: Experiment = "natural and careful-swell"


def a_check(length: str = "standard", seed: int = 1) -> Check:
    return new_check(length, CHROMATIC, np.random.default_rng(seed))  # type: ignore[arg-type]


def played(check: Check, count: int) -> Check:
    for _ in range(count):
        assert check.step is not None
        check = after_playing(check, None)
    return check


@pytest.mark.parametrize(
    ("length", "steps", "minutes"), [("short", 30, 4.5), ("standard", 81, 11.3)]
)
def test_a_check_takes_as_long_as_it_says(length: str, steps: int, minutes: float) -> None:
    check = a_check(length)
    assert len(check.ahead) == steps
    assert check.minutes_left == pytest.approx(minutes, abs=0.5)


def test_the_short_form_has_each_natural_note_s_octave() -> None:
    notes = {step.midi for step in a_check("short").ahead}
    assert len(notes) == 15
    assert all(midi + 12 in notes for midi in notes if midi < 77)


def test_passes_follow_each_other_and_have_an_order_of_their_own() -> None:
    steps = a_check().ahead
    orders = [[s.midi for s in steps if s.pass_number == number] for number in range(3)]
    assert [s.pass_number for s in steps] == sorted(s.pass_number for s in steps)
    assert all(sorted(order) == list(CHROMATIC) for order in orders)
    assert orders[0] != orders[2] != sorted(orders[2])


def test_a_failed_note_is_asked_again_at_the_end_of_its_pass() -> None:
    check = a_check()
    first = check.step
    assert first is not None
    check = after_playing(check, "squeak")
    assert check.step != first
    check = played(check, 26)
    assert check.step == first


def test_a_note_that_keeps_failing_is_left_out_and_the_check_goes_on() -> None:
    check = measure_again({70: BOTH}, np.random.default_rng(1))
    first = check.step
    for _ in range(MOST_TRIES):
        assert check.step == first
        check = after_playing(check, "squeak")
    assert check.left_out == (first,)
    assert check.step is not None


def test_a_skipped_note_is_named_and_progress_counts_it() -> None:
    check = skipped(measure_again({70: BOTH, 72: BOTH}, np.random.default_rng(1)))
    assert len(check.left_out) == 1
    assert check.share_done == pytest.approx(0.25)


def test_a_check_that_is_played_through_is_done() -> None:
    check = played(a_check("short"), 30)
    assert check.step is None
    assert check.share_done == 1.0


def test_a_tone_that_was_too_short_is_asked_again_at_once_as_often_as_it_takes() -> None:
    check = a_check()
    for _ in range(MOST_TRIES + 1):
        check = after_playing(check, "too short")
    assert check == a_check()


def test_measuring_again_asks_for_the_experiments_that_were_planned() -> None:
    wanted: dict[int, Experiment] = {70: "natural", 72: "careful-swell", 74: BOTH}
    steps = measure_again(wanted, np.random.default_rng(3)).ahead
    asked = sorted((step.pass_name, step.midi) for step in steps)
    assert asked == [("A", 70), ("A", 70), ("A", 74), ("B", 72), ("B", 74)]
    assert len({step.place for step in steps}) == len(steps)


def test_eight_notes_off_on_off_on_take_seven_and_a_half_minutes() -> None:
    check = off_and_on(CHROMATIC[:8], np.random.default_rng(3))
    assert check.minutes_left == pytest.approx(7.5, abs=0.1)
    for number in range(4):
        notes = [step.midi for step in check.ahead if step.pass_number == number]
        assert sorted(notes) == sorted([*CHROMATIC[:8], *CHROMATIC[:8]])


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({}, None),
        ({"midi": 71}, "another note"),
        ({"cents": 400.0}, "squeak"),
    ],
)
def test_what_does_not_count_is_said(change: dict[str, float], fault: Fault | None) -> None:
    row = HeldNoteRow(event=1, player="p", instrument="i", session="s", midi=70, cents=3.0)
    heard = [replace(row, **change)]  # type: ignore[arg-type]
    assert fault_of(AskedTone(70, "as always"), heard, duration_s=3.0) == fault
    assert fault_of(AskedTone(70, "held"), heard, duration_s=1.0) == "too short"


def test_a_swell_must_be_long_and_wide_enough() -> None:
    asked = AskedTone(70, "swelled")
    row = HeldNoteRow(
        event=1, player="p", instrument="i", session="s", midi=70, cents=3.0, kind="careful-swell"
    )
    narrow = [replace(row, level_db=-20.0 + 0.2 * i) for i in range(6)]
    wide = [replace(row, level_db=-20.0 + 1.5 * i) for i in range(6)]
    assert fault_of(asked, narrow, duration_s=6.0) == "too little swell"
    assert fault_of(asked, wide, duration_s=6.0) is None
    assert fault_of(asked, wide[:2], duration_s=6.0) == "too short"
    assert fault_of(asked, wide, duration_s=0.8) == "too short"
