"""The drills ask what they say they ask, mix what they measure, and end in time."""

import itertools
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.listening.block import Block
from intonation.listening.drill import conditions_named, drills
from intonation.listening.drills.difference_tone import HearTheDifferenceTone
from intonation.listening.drills.remember import RememberAPitch
from intonation.listening.drills.tune_it import TuneIt
from intonation.listening.drills.which_in_tune import WhichIsInTune
from intonation.listening.drills.which_way import WhichWay
from intonation.listening.setting import EarSetting
from intonation.listening.simulated_listener import GuessingListener, SimulatedListener
from intonation.pitch.cents import cents_between
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered
from tests.support.ears import ALTO_EAR, FALLING_FOURTH, played

DRILLS = drills(ALTO_EAR, tunes=(FALLING_FOURTH,))


@pytest.mark.parametrize("name", DRILLS)
@given(seed=st.integers(0, 10_000), cents=st.floats(0.5, 50.0))
@settings(max_examples=20, deadline=None)
def test_every_trial_offers_its_right_answer_and_no_answer_is_favoured(
    name: str, seed: int, cents: float
) -> None:
    drill, rng = DRILLS[name], np.random.default_rng(seed)
    conditions = drill.conditions()
    trial = drill.trial(conditions[seed % len(conditions)], cents, rng)
    assert trial.right in trial.choices
    assert len(set(trial.choices)) == len(trial.choices)
    assert trial.step_cents == pytest.approx(cents)
    assert abs(trial.deviation_cents) in (0.0, pytest.approx(cents))
    assert all(60.0 < tone.hz < 4000.0 for tone in trial.tones)


@pytest.mark.parametrize("name", ["which is in tune", "difference tone", "remember", "which note"])
def test_every_answer_is_the_right_one_equally_often(name: str) -> None:
    drill, rng = DRILLS[name], np.random.default_rng(50)
    rights = Counter(drill.trial(drill.conditions()[0], 10.0, rng).right for _ in range(900))
    choices = drill.trial(drill.conditions()[0], 10.0, rng).choices
    assert set(rights) == set(choices)
    for count in rights.values():
        assert count / 900 == pytest.approx(1 / len(choices), abs=0.05)


def test_an_interval_is_pure_or_as_the_temperament_has_it() -> None:
    rng = np.random.default_rng(51)
    meantone = tempered(temperament_named("quarter-comma-meantone"), a4_hz=415.0)
    for pure, cents in ((True, 701.955), (False, 696.578)):  # quarter-comma fifth: Barbour (1951)
        setting = EarSetting(
            tuning=meantone, low_midi=range(67, 68), high_midi=range(79, 80), pure=pure
        )
        drill = WhichWay(setting)
        fifth = conditions_named(drill, interval="fifth", register="low")[0]
        drone, tone = drill.trial(fifth, 0.5, rng).tones
        assert cents_between(tone.hz, target_hz=drone.hz) == pytest.approx(cents + 0.5, abs=1e-3)
        assert drone.hz == pytest.approx(meantone.hz(60))


def test_only_one_note_of_the_chord_or_tune_is_off() -> None:
    rng = np.random.default_rng(52)
    pure = {"root": 1.0, "third": 5 / 4, "fifth": 3 / 2, "octave": 2.0}
    drill = DRILLS["find the culprit"]
    chord = conditions_named(drill, interval="major chord with octave")[0]
    for _ in range(20):
        trial = drill.trial(chord, 15.0, rng)
        place, way = trial.right.split()
        others = {
            name: tone.hz / pure[name]
            for name, tone in zip(pure, trial.tones, strict=True)
            if name != place
        }
        root_hz = next(iter(others.values()))
        assert list(others.values()) == pytest.approx([root_hz] * 3)
        culprit = trial.tones[list(pure).index(place)]
        off_cents = cents_between(culprit.hz, target_hz=root_hz * pure[place])
        assert off_cents == pytest.approx(15.0 if way == "sharp" else -15.0)


def test_the_tune_has_one_wrong_note_over_an_exact_backing() -> None:
    rng = np.random.default_rng(53)
    drill = DRILLS["which note"]
    trial = drill.trial(drill.conditions()[0], 25.0, rng)
    notes = zip(trial.tones, FALLING_FOURTH.melody, strict=False)
    off = [cents_between(heard.hz, target_hz=meant.hz) for heard, meant in notes]
    assert [abs(cents) > 1e-6 for cents in off].index(True) + 1 == int(trial.right)
    assert sum(abs(cents) > 1e-6 for cents in off) == 1
    assert trial.tones[-1].hz == FALLING_FOURTH.backing[0].hz


def test_the_difference_tone_of_the_right_version_is_the_root_and_of_the_other_is_not() -> None:
    # a third that is c cents off moves its difference tone by about 5c: f2/(f2 - f1) = 5
    rng = np.random.default_rng(54)
    drill = HearTheDifferenceTone(ALTO_EAR)
    third = conditions_named(drill, interval="major third")[0]
    trial = drill.trial(third, 6.0, rng)
    for number, start_s in enumerate(trial.version_starts_s, start=1):
        tones = [t for t in trial.tones if start_s <= t.start_s < start_s + 2.5]
        root, lower, upper = tones
        off_cents = cents_between(upper.hz - lower.hz, target_hz=root.hz)
        if str(number) == trial.right:
            assert off_cents == pytest.approx(0.0, abs=1e-6)
        else:
            assert abs(off_cents) == pytest.approx(30.0, abs=1.5)
            assert off_cents == pytest.approx(trial.difference_tone_cents)


def test_the_demonstration_begins_with_the_pure_version() -> None:
    drill = HearTheDifferenceTone(ALTO_EAR)
    trial = drill.demonstration(drill.conditions()[0], np.random.default_rng(55))
    assert trial.right == "1"


def test_a_remembered_pitch_comes_after_silence() -> None:
    drill = RememberAPitch(ALTO_EAR, silence_s=6.0)
    first, second = drill.trial(drill.conditions()[0], 8.0, np.random.default_rng(56)).tones
    assert second.start_s - first.end_s >= 6.0
    heard = {
        drill.trial(drill.conditions()[0], 8.0, np.random.default_rng(seed)).right
        for seed in range(30)
    }
    assert heard == {"flat", "same", "sharp"}


def test_chords_are_compared_by_their_third() -> None:
    drill = WhichIsInTune(ALTO_EAR)
    chord = conditions_named(drill, interval="major chord")[0]
    trial = drill.trial(chord, 14.0, np.random.default_rng(57))
    for number, start_s in enumerate(trial.version_starts_s, start=1):
        root, third, fifth = (t.hz for t in trial.tones if start_s <= t.start_s < start_s + 1.6)
        assert fifth / root == pytest.approx(3 / 2)
        pure = third / root == pytest.approx(5 / 4)
        assert pure == (str(number) == trial.right)


def test_tuning_by_ear_starts_above_and_below_in_turn_and_steps_cannot_be_counted() -> None:
    rng = np.random.default_rng(58)
    drill = TuneIt(ALTO_EAR)
    tuned, steps = [], set()
    for _ in range(8):
        note = drill.note_to_tune(drill.conditions()[0], rng, before=tuned)
        steps.add(note.steps_cents)
        tuned.append(note.turned(coarse=-1, fine=3).left())
    assert sum(each.start_cents > 0 for each in tuned) == 4
    assert len(steps) == 8


def test_the_note_that_is_tuned_sounds_where_the_keys_put_it() -> None:
    drill = TuneIt(ALTO_EAR)
    fifth = next(each for each in drill.conditions() if each.interval == "fifth")
    note = drill.note_to_tune(fifth, np.random.default_rng(59)).turned(fine=-7)
    off_cents = cents_between(note.tone.hz, target_hz=note.drone.hz * 3 / 2)
    assert off_cents == pytest.approx(note.left().final_cents)
    assert note.turned(coarse=99).cents == 60.0


def test_a_block_mixes_its_intervals_and_ends_in_time() -> None:
    rng = np.random.default_rng(60)
    drill = DRILLS["which way"]
    chosen = drill.conditions()[:4]
    block = Block(drill, chosen, rng=rng, length_s=180.0)
    result = played(block, SimulatedListener(threshold_cents=8.0), rng)
    order = [answer.trial.condition for answer in result.answers]
    counts = Counter(order)
    assert set(counts) == set(chosen)
    assert max(counts.values()) - min(counts.values()) <= 1
    assert all(a != b for a, b in itertools.pairwise(order))
    assert 180.0 <= block.spent_s < 190.0
    assert block.is_over


@pytest.mark.parametrize("name", DRILLS)
def test_every_drill_finds_a_simulated_ear_and_refuses_to_judge_a_guesser(name: str) -> None:
    rng = np.random.default_rng(61)
    drill = DRILLS[name]
    only = drill.conditions()[:1]
    listening = Block(drill, only, rng=rng, length_s=360.0)
    found = played(listening, SimulatedListener(threshold_cents=6.0), rng).estimates[only[0]]
    assert found.standing == "measured"
    assert 2.0 < found.threshold_cents.value < 18.0
    guessing = Block(drill, only, rng=rng, length_s=360.0)
    assert played(guessing, GuessingListener(), rng).estimates[only[0]].standing != "measured"


def test_a_staircase_block_comes_to_the_same_threshold() -> None:
    rng = np.random.default_rng(62)
    drill = DRILLS["which way"]
    only = drill.conditions()[:1]
    block = Block(drill, only, rng=rng, length_s=360.0, method="staircase")
    found = played(block, SimulatedListener(threshold_cents=6.0), rng).estimates[only[0]]
    assert found.threshold_cents.low < 6.0 < found.threshold_cents.high


def test_with_feedback_in_summary_nothing_is_said_before_the_end() -> None:
    rng = np.random.default_rng(63)
    drill = DRILLS["which way"]
    block = Block(drill, drill.conditions()[:2], rng=rng, feedback="in summary")
    assert block.trial is not None
    assert block.answered("sharp") is None
    assert block.answered("flat") is None
    block.stop()
    assert [answer.choice for answer in block.result().answers] == ["sharp", "flat"]


def test_what_cannot_be_answered_or_chosen_is_said_in_a_sentence() -> None:
    rng = np.random.default_rng(64)
    drill = DRILLS["which way"]
    block = Block(drill, drill.conditions()[:1], rng=rng)
    with pytest.raises(SettingsError, match="flat, sharp"):
        block.answered("sideways")
    block.stop()
    with pytest.raises(SettingsError, match="another block"):
        block.answered("sharp")
    with pytest.raises(SettingsError, match="3 to 6 minutes"):
        Block(drill, drill.conditions(), rng=rng, length_s=20.0)
    with pytest.raises(SettingsError, match="minor sixth"):
        conditions_named(drill, interval="tritone")
