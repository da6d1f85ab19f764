"""The instrument check as it is played: what counts, what is asked again, and what is kept."""

from dataclasses import replace

import numpy as np
import pytest

from intonation.diagnosis.check import new_check
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import cents_between, shifted_hz
from intonation.pitch.notes import equal_tempered_hz
from intonation.practice.checking import Checking, CheckSettings, KeptStep, PlayedTone
from intonation.practice.swell_steps import LevelStep, swell_steps
from intonation.tracking.events import HeldNote, PitchFrame

SETTINGS = CheckSettings(player="wren", instrument="alto", size="alto", a4_hz=415.0)


def a_check() -> Checking:
    alto = instrument_named("alto")
    check = new_check("short", alto.notes_midi, np.random.default_rng(2))
    return Checking(SETTINGS, alto, check).begun()


def tone(
    midi: int, cents: float = 0.0, *, seconds: float = 3.0, swell_db: float = 0.0
) -> PlayedTone:
    hz = shifted_hz(equal_tempered_hz(midi, a4_hz=415.0), cents=cents)
    held = HeldNote(1.0, 1.0 + seconds, hz, 0.1, 1.0, 0.0, -24.0, 30.0)
    steps = tuple(LevelStep(hz, -30.0 + swell_db * i / 5.0) for i in range(6))
    return PlayedTone(held, steps)


def answered(checking: Checking, cents: float = 0.0) -> tuple[Checking, KeptStep | None]:
    """Play what is asked for."""
    assert checking.asked is not None
    return checking.after(tone(checking.asked.midi, cents, swell_db=10.0))


def at_second_pass() -> Checking:
    checking = a_check()
    for _ in range(15):
        checking, _ = answered(checking)
    return checking


def test_a_tone_as_always_is_kept_and_the_next_note_asked_for() -> None:
    checking, kept = answered(a_check(), 7.0)
    assert kept is not None
    ((asked, played),) = kept.tones
    (row,) = checking.rows_of(asked, played, session="evening", minutes=11.0, order=1)
    assert row.cents == pytest.approx(7.0)
    assert (row.kind, row.blind, row.reference, row.minutes) == ("natural", True, False, 11.0)
    assert checking.asked is not None
    assert checking.asked.midi != asked.midi


def test_the_second_pass_waits_until_the_player_says_so() -> None:
    checking = at_second_pass()
    assert checking.waiting
    assert checking.asked is None
    assert checking.begun().asked is not None


def test_with_exact_fingers_a_tone_is_held_and_then_swelled_before_it_is_kept() -> None:
    checking = at_second_pass().begun()
    held, kept = answered(checking)
    assert kept is None
    assert checking.asked is not None
    assert held.asked is not None
    assert (held.asked.midi, held.asked.manner) == (checking.asked.midi, "swelled")
    _, kept = answered(held)
    assert kept is not None
    kinds = [
        row.kind for asked, played in kept.tones for row in held.rows_of(asked, played, order=4)
    ]
    assert kinds == ["careful", *["careful-swell"] * 6]


@pytest.mark.parametrize("semitones", [2, 1, -1, -12])
def test_another_note_is_named_and_the_note_comes_again_later(semitones: int) -> None:
    checking = a_check()
    while checking.asked is None or checking.asked.midi < 79:
        checking, _ = answered(checking)
    after, kept = checking.after(tone(checking.asked.midi + semitones, -8.0))
    assert kept is None
    assert (after.said, after.heard_midi) == ("another note", checking.asked.midi + semitones)
    assert checking.check.ahead[0] in after.check.ahead[1:]


def test_a_note_that_overblows_is_a_squeak_and_not_another_note() -> None:
    checking = a_check()
    assert checking.asked is not None
    after, _ = checking.after(tone(checking.asked.midi + 12, 20.0))
    assert after.said == "squeak"


def test_an_instrument_that_is_off_as_a_whole_is_not_at_another_note() -> None:
    checking = a_check()
    for _ in range(4):
        checking, _ = answered(checking, 44.0)
    after, kept = answered(checking, 58.0)
    assert after.said == "kept"
    assert kept is not None
    ((asked, played),) = kept.tones
    (row,) = after.rows_of(asked, played)
    assert row.cents == pytest.approx(58.0)


@pytest.mark.parametrize("stray", [tone(80, seconds=0.3), tone(55), tone(45, seconds=1.0)])
def test_a_cough_or_a_voice_in_the_room_is_no_answer(stray: PlayedTone) -> None:
    checking = a_check()
    assert checking.after(stray) == (checking, None)


def test_a_narrow_swell_asks_for_the_whole_note_again() -> None:
    held, _ = answered(at_second_pass().begun())
    assert held.asked is not None
    after, kept = held.after(tone(held.asked.midi, swell_db=2.0))
    assert kept is None
    assert after.said == "too little swell"
    assert after.tones == ()


def frames_of_a_swell(*, falling: bool = False) -> list[PitchFrame]:
    """Four seconds from -40 to -28 dB at 4.5 cents per dB."""
    time_s = np.arange(0.0, 4.0, 0.01)
    level_db = -40.0 + 3.0 * (4.0 - time_s if falling else time_s)
    hz = 440.0 * 2.0 ** (4.5 * (level_db + 34.0) / 1200.0)
    return [PitchFrame(t, f, 30.0, db) for t, f, db in zip(time_s, hz, level_db, strict=True)]


@pytest.mark.parametrize("falling", [False, True])
def test_a_swell_s_steps_follow_its_true_slope_in_either_direction(falling: bool) -> None:
    held = replace(tone(69).held, onset_s=0.0, offset_s=4.0)
    steps = swell_steps(frames_of_a_swell(falling=falling), held)
    levels = [step.level_db for step in steps]
    assert levels == sorted(levels)
    assert levels[-1] - levels[0] > 8.0
    cents = cents_between(steps[-1].f0_hz, target_hz=steps[0].f0_hz)
    assert cents / (levels[-1] - levels[0]) == pytest.approx(4.5, abs=0.05)


def test_a_tone_that_is_hardly_there_has_no_steps() -> None:
    held = replace(tone(69).held, onset_s=0.0, offset_s=0.5)
    assert swell_steps(frames_of_a_swell()[:50], held) == ()
