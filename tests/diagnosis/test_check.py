"""The guided check: order, repeats, breaking off and going on."""

from dataclasses import replace

import numpy as np
import pytest

from intonation.diagnosis.check import (
    MOST_TRIES,
    Check,
    Fault,
    after_playing,
    fault_of,
    measure_again,
    new_check,
    resumed,
    skipped,
)
from intonation.heldnotes.row import HeldNoteRow
from tests.support.worlds import CHROMATIC, USUAL, Sitting, made_instrument, made_player


def a_check(length: str = "standard", seed: int = 1) -> Check:
    return new_check(length, CHROMATIC, np.random.default_rng(seed))  # type: ignore[arg-type]


def played(check: Check, count: int) -> tuple[Check, list[HeldNoteRow]]:
    """Let a simulated player play the next steps."""
    rng = np.random.default_rng(5)
    calm = replace(USUAL, slips=0.0)
    sitting = Sitting(calm, rng, made_player(rng, calm), made_instrument(rng, calm), "s").begin()
    for _ in range(count):
        assert check.step is not None
        if check.step.pass_name == "A":
            sitting.play(check.step.midi)
        else:
            sitting.play(check.step.midi, "careful")
            sitting.swell(check.step.midi)
        check = after_playing(check, None)
    return check, sitting.rows


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
    check, _ = played(check, 26)
    assert check.step == first


def test_a_note_that_keeps_failing_is_left_out_and_the_check_goes_on() -> None:
    check = measure_again([70], np.random.default_rng(1))
    first = check.step
    for _ in range(MOST_TRIES):
        assert check.step == first
        check = after_playing(check, "squeak")
    assert check.left_out == (first,)
    assert check.step is not None


def test_a_skipped_note_is_named_and_progress_counts_it() -> None:
    check = skipped(measure_again([70, 72], np.random.default_rng(1)))
    assert len(check.left_out) == 1
    assert check.share_done == pytest.approx(0.25)


def test_a_check_goes_on_where_it_was_broken_off() -> None:
    check, rows = played(a_check(seed=1), 40)
    again = resumed(a_check(seed=2), rows)
    assert again.done == 40
    assert sorted((s.pass_name, s.midi) for s in again.ahead) == sorted(
        (s.pass_name, s.midi) for s in check.ahead
    )


def test_a_check_that_is_played_through_is_done() -> None:
    check, rows = played(a_check("short"), 30)
    assert check.step is None
    assert check.share_done == 1.0
    assert resumed(a_check("short", seed=9), rows).step is None


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({}, None),
        ({"midi": 71}, "another note"),
        ({"cents": 400.0}, "squeak"),
    ],
)
def test_what_does_not_count_is_said(change: dict[str, float], fault: Fault | None) -> None:
    step = next(s for s in a_check().ahead if s.pass_name == "A" and s.midi == 70)
    row = HeldNoteRow(event=1, player="p", instrument="i", session="s", midi=70, cents=3.0)
    assert fault_of(step, [replace(row, **change)], duration_s=3.0) == fault  # type: ignore[arg-type]


def test_a_swell_must_be_long_and_wide_enough() -> None:
    step = next(s for s in a_check().ahead if s.pass_name == "B" and s.midi == 70)
    row = HeldNoteRow(
        event=1, player="p", instrument="i", session="s", midi=70, cents=3.0, kind="careful-swell"
    )
    narrow = [replace(row, level_db=-20.0 + 0.2 * i) for i in range(6)]
    wide = [replace(row, level_db=-20.0 + 1.5 * i) for i in range(6)]
    assert fault_of(step, narrow, duration_s=6.0) == "too little swell"
    assert fault_of(step, wide, duration_s=6.0) is None
    assert fault_of(step, wide[:2], duration_s=6.0) == "too short"
    assert fault_of(step, wide, duration_s=0.8) == "too short"
