"""What is heard is what was meant: exact pitches, and nothing else to tell the answers by."""

import numpy as np
import pytest
from numpy.typing import NDArray

from intonation.listening.drill import drills
from intonation.listening.drills.tune_it import TuneIt
from intonation.listening.drills.which_in_tune import WhichIsInTune
from intonation.listening.setting import EarSetting
from intonation.listening.stimuli import CEILING, SAMPLE_RATE_HZ, rendered
from intonation.listening.trials import HeardTone, Trial
from intonation.pitch.cents import cents_between
from tests.support.cues import DRILLS, seen_in, share_classified, trials_of
from tests.support.ears import ALTO_EAR

TRIALS = 24


def without_amplitudes(tone: HeardTone, samples: NDArray[np.float32]) -> NDArray[np.float64]:
    """The steady part of a tone, windowed."""
    first = round((tone.start_s + 0.1) * SAMPLE_RATE_HZ)
    last = round((tone.end_s - 0.1) * SAMPLE_RATE_HZ)
    steady = samples[first:last].astype(np.float64)
    return steady * np.blackman(steady.size)


def measured_hz(tone: HeardTone, samples: NDArray[np.float32]) -> float:
    """The frequency of a lone tone: where the spectrum of its fundamental is largest.

    Independent of how it was made: a discrete-time Fourier transform, and golden-section search.
    """
    steady = without_amplitudes(tone, samples)
    time_s = np.arange(steady.size) / SAMPLE_RATE_HZ

    def magnitude(hz: float) -> float:
        return float(abs(np.exp(-2j * np.pi * hz * time_s) @ steady))

    low, high = tone.hz * 0.995, tone.hz * 1.005
    shrink = (5**0.5 - 1) / 2
    for _ in range(26):  # to 1e-4 cents
        left, right = high - shrink * (high - low), low + shrink * (high - low)
        low, high = (left, high) if magnitude(left) < magnitude(right) else (low, right)
    return (low + high) / 2


def alone(trial: Trial, tone: HeardTone, rng: np.random.Generator) -> NDArray[np.float32]:
    only = Trial(
        condition=trial.condition,
        tones=(tone,),
        choices=trial.choices,
        right=trial.right,
        step_cents=trial.step_cents,
        deviation_cents=trial.deviation_cents,
    )
    return rendered(only, rng)


@pytest.mark.parametrize(
    ("interval", "step_cents"),
    [("unison", -0.5), ("fifth", 4.25), ("major third", -31.7), ("minor sixth", 4.25)],
)
def test_the_mistuning_in_the_samples_is_the_one_asked_for(
    interval: str, step_cents: float
) -> None:
    rng = np.random.default_rng(40)
    ratios = {"unison": 1.0, "fifth": 3 / 2, "major third": 5 / 4, "minor sixth": 8 / 5}
    drill = DRILLS["which way"]
    condition = next(each for each in drill.conditions() if each.interval == interval)
    trial = drill.trial(condition, step_cents, rng)
    drone, tone = (measured_hz(each, alone(trial, each, rng)) for each in trial.tones)
    off_cents = cents_between(tone, target_hz=drone * ratios[interval])
    assert off_cents == pytest.approx(step_cents, abs=0.01)


def test_a_mistuned_unison_beats_as_often_as_the_feedback_says() -> None:
    # beat rate f (2^(c/1200) - 1): H. von Helmholtz, On the Sensations of Tone, ch. 8
    rng = np.random.default_rng(41)
    drill = DRILLS["which way"]
    trial = drill.trial(drill.conditions()[0], 12.0, rng)
    drone = trial.tones[0]
    assert trial.beats_hz == pytest.approx(drone.hz * (2 ** (12.0 / 1200) - 1))
    samples = rendered(trial, rng)[round(0.9 * SAMPLE_RATE_HZ) : round(2.3 * SAMPLE_RATE_HZ)]
    block = 480
    power = (samples[: samples.size // block * block].reshape(-1, block) ** 2).mean(axis=1)
    spectrum = np.abs(np.fft.rfft((power - power.mean()) * np.hanning(power.size), 4096))
    strongest_hz = float(np.fft.rfftfreq(4096, block / SAMPLE_RATE_HZ)[spectrum.argmax()])
    assert strongest_hz == pytest.approx(trial.beats_hz, abs=0.3)


def test_the_feedback_beats_agree_with_a_published_table() -> None:
    # C4-E4 in equal temperament beats 10.4 times a second: S. Teki et al., J. Neurosci. 32 (2012)
    # 12251, Table 1
    in_equal = EarSetting(tuning=ALTO_EAR.tuning, low_midi=range(64, 65), high_midi=range(64, 65))
    drill = drills(in_equal)["which way"]
    condition = next(each for each in drill.conditions() if each.interval == "major third")
    tempered_third_cents = 400.0 - 386.3137
    trial = drill.trial(condition, tempered_third_cents, np.random.default_rng(42))
    assert trial.beats_hz == pytest.approx(10.4, abs=0.05)


@pytest.mark.parametrize("name", DRILLS)
def test_a_trial_is_finite_soft_and_free_of_clicks(name: str) -> None:
    rng = np.random.default_rng(43)
    for trial in trials_of(DRILLS[name], 6, rng):
        samples = rendered(trial, rng)
        assert samples.dtype == np.float32
        assert np.isfinite(samples).all()
        assert np.abs(samples).max() < CEILING
        assert abs(samples[0]) < 1e-4
        assert abs(samples[-1]) < 1e-4
        assert np.abs(np.diff(samples)).max() < 0.2


def test_a_pure_unison_is_neither_louder_nor_softer_than_a_beating_one() -> None:
    # two sines at one frequency could cancel or double, and betray which version is pure
    drill, rng = WhichIsInTune(ALTO_EAR), np.random.default_rng(48)
    ratios_db = []
    for _ in range(12):
        trial = drill.trial(drill.conditions()[0], 20.0, rng)
        samples = rendered(trial, rng)
        for start_s in trial.version_starts_s:
            middle = samples[round((start_s + 0.1) * 48_000) : round((start_s + 1.5) * 48_000)]
            tones = [t for t in trial.tones if start_s <= t.start_s < start_s + 0.1]
            meant = sum(10 ** (tone.level_db / 10) for tone in tones)
            ratios_db.append(10 * np.log10(np.mean(middle.astype(np.float64) ** 2) / meant))
    assert np.abs(ratios_db).max() < 0.6


@pytest.mark.parametrize("name", [*DRILLS, TuneIt.name])
def test_level_brightness_and_onset_do_not_tell_the_answers(name: str) -> None:
    # a few trials, to notice a gross cue; tests/benchmarks/cue_accuracy.py has thousands
    seen = [*seen_in(name, TRIALS, np.random.default_rng(44))]
    features, answers = np.array([each for each, _ in seen]), np.array([told for _, told in seen])
    assert share_classified(features, answers) < 0.5 + 3.0 * 0.5 / TRIALS**0.5


def test_the_classifier_would_notice_a_cue() -> None:
    # the check above is worth something only if it finds a cue of 2 dB that is there
    rng = np.random.default_rng(46)
    answers = rng.random(400) < 0.5
    features = rng.normal(size=(400, 3)) + np.where(answers, 0.6, 0.0)[:, None]
    assert share_classified(features, answers) > 0.6


def test_with_three_versions_the_middle_pitch_is_no_better_guess() -> None:
    rng = np.random.default_rng(47)
    drill = WhichIsInTune(ALTO_EAR, versions=3)
    middle = 0
    for trial in trials_of(drill, 600, rng):
        upper_hz = [
            next(t.hz for t in trial.tones[1::2] if start <= t.start_s < start + 0.1)
            for start in trial.version_starts_s
        ]
        right_hz = upper_hz[int(trial.right) - 1]
        middle += sum(hz < right_hz for hz in upper_hz) == 1
    assert middle / 600 == pytest.approx(1 / 3, abs=0.06)
