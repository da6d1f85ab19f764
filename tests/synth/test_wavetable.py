"""The built-in reference: exact, clean, without clicks, never too loud."""

import tracemalloc

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from intonation.errors import SettingsError
from intonation.pitch.cents import shifted_hz
from intonation.pitch.notes import equal_tempered_hz
from intonation.synth.loudness import CEILING
from intonation.synth.tones import Tone
from intonation.synth.voices import VOICES, voice_named
from intonation.synth.wavetable import Synth
from tests.support.steady_sound import (
    complex_amplitudes,
    frequency_error_cents,
    residual_db,
    roughest_step_db,
)

RATE_HZ = 48_000
STEADY_VOICES = [name for name, voice in VOICES.items() if voice.plucked_every_s is None]
FIVE_OCTAVES = [36, 43, 52, 61, 69, 74, 84, 93, 101, 108]
"""C2 to C8 in MIDI numbers."""


def sounding(*tones: Tone, rate_hz: float = RATE_HZ) -> Synth:
    synth = Synth(rate_hz)
    synth.set_tones(tones)
    synth.render(round(0.5 * rate_hz))
    return synth


@pytest.mark.parametrize("midi", FIVE_OCTAVES)
@pytest.mark.parametrize("voice", VOICES)
def test_every_voice_sounds_the_pitch_that_was_asked(voice: str, midi: int) -> None:
    asked_hz = shifted_hz(equal_tempered_hz(midi, a4_hz=440.0), cents=0.123)
    samples = sounding(Tone(asked_hz, voice=voice)).render(3 * RATE_HZ).astype(float)
    assert abs(frequency_error_cents(samples, RATE_HZ, expected_hz=asked_hz)) < 0.001


@pytest.mark.parametrize("rate_hz", [44_100, 48_000, 96_000])
@pytest.mark.parametrize("voice", STEADY_VOICES)
def test_nothing_but_its_partials_sounds(voice: str, rate_hz: int) -> None:
    for hz in (65.40639, 441.7, 1234.5678, 4186.009):
        synth = sounding(Tone(hz, voice=voice), rate_hz=rate_hz)
        partials_hz = [partial.hz for partial in synth.partials()]
        samples = synth.render(rate_hz // 4).astype(float)
        assert residual_db(samples, rate_hz, partials_hz) < -100.0


@pytest.mark.parametrize("voice", STEADY_VOICES)
def test_partials_sound_at_the_levels_that_are_reported(voice: str) -> None:
    synth = sounding(Tone(220.0, -3.0, voice), Tone(334.1, -9.0, voice))
    partials = synth.partials()
    samples = synth.render(RATE_HZ // 4).astype(float)
    amplitudes = complex_amplitudes(samples, RATE_HZ, [partial.hz for partial in partials])
    measured_db = 20.0 * np.log10(np.abs(amplitudes) / np.sqrt(2.0))
    np.testing.assert_allclose(measured_db, [partial.level_db for partial in partials], atol=0.01)


def test_a_pure_triad_does_not_beat() -> None:
    """Partials 5 of the root and 4 of the third, 3 and 2 of root and fifth coincide (4:5:6)."""
    synth = sounding(Tone(264.0), Tone(330.0), Tone(396.0))
    samples = synth.render(4 * RATE_HZ).astype(float)
    for shared_hz in (1320.0, 792.0, 1980.0):
        time_s = np.arange(samples.size) / RATE_HZ
        baseband = samples * np.exp(-2j * np.pi * shared_hz * time_s)
        strength = np.abs(baseband.reshape(-1, RATE_HZ // 2).mean(axis=1))
        assert np.ptp(strength) / np.mean(strength) < 0.005


def test_a_fifth_two_cents_narrow_beats_at_the_rate_of_theory() -> None:
    """Helmholtz: a mistuned fifth beats at |2 f2 − 3 f1| (from memory)."""
    upper_hz = shifted_hz(396.0, cents=-2.0)
    beat_hz = 3 * 264.0 - 2 * upper_hz
    samples = sounding(Tone(264.0), Tone(upper_hz)).render(4 * RATE_HZ).astype(float)
    time_s = np.arange(samples.size) / RATE_HZ
    around = samples * np.exp(-2j * np.pi * 792.0 * time_s)
    strength = np.abs(around.reshape(-1, RATE_HZ // 32).mean(axis=1)) ** 2
    spectrum = np.abs(np.fft.rfft(strength - strength.mean(), 4096))
    assert np.argmax(spectrum) / 4096 * 32 == pytest.approx(beat_hz, abs=0.05)


def changes(synth: Synth, what: str) -> None:
    asked = {
        "start": (Tone(440.0),),
        "stop": (),
        "another chord": (Tone(330.0), Tone(415.0)),
        "retuning": (Tone(443.0),),
        "another voice": (Tone(440.0, voice="reed"),),
    }
    if what == "loudness":
        synth.set_loudness(-40.0)
    else:
        synth.set_tones(asked[what])


@pytest.mark.parametrize(
    "what", ["start", "stop", "another chord", "retuning", "another voice", "loudness"]
)
def test_no_change_clicks(what: str) -> None:
    synth = Synth(RATE_HZ)
    if what != "start":
        synth = sounding(Tone(440.0))
    before = synth.render(3000)
    changes(synth, what)
    samples = np.concatenate([before, synth.render(RATE_HZ // 2)]).astype(float)
    assert roughest_step_db(samples, RATE_HZ, above_hz=13_000.0) < -100.0


def test_retuning_goes_on_from_the_same_phase() -> None:
    synth = sounding(Tone(440.0))
    synth.set_tones((Tone(444.0),))
    gliding = np.abs(synth.render(2400).astype(float))
    steady = np.abs(synth.render(2400).astype(float))
    assert np.max(gliding) == pytest.approx(np.max(steady), rel=0.01)


Cuts = list[int]


def rendered_in(cuts: Cuts) -> NDArray[np.float32]:
    synth = Synth(RATE_HZ)
    stretches = []
    for tones, loudness_db, length in (
        ((Tone(440.0), Tone(660.0, -3.0, "reed")), -6.0, 21_000),
        ((Tone(445.0), Tone(550.0, voice="plucked")), -20.0, 1_000),
        ((Tone(445.2),), -3.0, 3_000),
        ((), -3.0, 4_000),
        ((Tone(440.0),), 0.0, 3_000),
    ):
        synth.set_tones(tones)
        synth.set_loudness(loudness_db)
        left = length
        while left:
            for cut in cuts:
                stretches.append(synth.render(min(cut, left)))
                left -= stretches[-1].size
    return np.concatenate(stretches)


@settings(max_examples=15, deadline=None)
@given(st.lists(st.integers(1, 2000), min_size=1, max_size=4).filter(lambda cuts: sum(cuts) > 150))
def test_the_sound_does_not_depend_on_the_block_size(cuts: Cuts) -> None:
    np.testing.assert_array_equal(rendered_in(cuts), rendered_in([32_000]))


@given(
    st.lists(
        st.tuples(st.floats(16.0, 8400.0), st.floats(-60.0, 30.0), st.sampled_from(list(VOICES))),
        max_size=24,
    ),
    st.floats(-200.0, 200.0),
)
@settings(max_examples=25, deadline=None)
def test_no_request_gets_past_the_ceiling(
    wishes: list[tuple[float, float, str]], loudness_db: float
) -> None:
    synth = Synth(RATE_HZ)
    synth.set_loudness(loudness_db)
    for some in (wishes, wishes[::2], wishes[1::2]):
        synth.set_tones(tuple(Tone(*wish) for wish in some))
        samples = synth.render(3000)
        assert np.all(np.isfinite(samples))
        assert np.max(np.abs(samples)) <= CEILING


def test_a_full_chord_stays_under_the_ceiling_without_being_bent_by_it() -> None:
    synth = sounding(*(Tone(100.0 * step, voice="strings") for step in range(1, 13)))
    partials_hz = sorted({round(partial.hz, 6) for partial in synth.partials()})
    assert residual_db(synth.render(RATE_HZ // 25).astype(float), RATE_HZ, partials_hz) < -100.0


def test_sound_starts_softly_after_a_silence() -> None:
    synth = Synth(RATE_HZ)
    synth.set_tones((Tone(440.0),))
    first_tenth = np.sqrt(np.mean(synth.render(RATE_HZ // 10) ** 2))
    synth.render(RATE_HZ // 2)
    assert first_tenth < 0.3 * np.sqrt(np.mean(synth.render(RATE_HZ // 10) ** 2))


def test_it_is_silent_again_50_ms_after_the_last_tone() -> None:
    synth = sounding(Tone(440.0))
    assert not synth.silent
    synth.set_tones(())
    synth.render(RATE_HZ // 20)
    assert synth.silent
    assert not np.any(synth.render(1000))


def test_loudness_is_heard_in_the_partials_and_in_the_sound() -> None:
    synth = sounding(Tone(440.0))
    loud = np.std(synth.render(RATE_HZ // 10))
    synth.set_loudness(-20.0)
    synth.render(RATE_HZ // 10)
    assert 20.0 * np.log10(np.std(synth.render(RATE_HZ // 10)) / loud) == pytest.approx(
        -20, abs=0.1
    )


def test_a_plucked_tone_dies_away_and_is_plucked_again() -> None:
    synth = sounding(Tone(220.0, voice="plucked"))
    per_half_second = [float(np.std(synth.render(RATE_HZ // 2))) for _ in range(8)]
    assert per_half_second[:7] == sorted(per_half_second[:7], reverse=True)
    assert per_half_second[7] > 3.0 * per_half_second[6]


def test_rendering_allocates_no_memory_once_a_chord_sounds() -> None:
    synth = sounding(*(Tone(110.0 * step) for step in range(1, 6)))
    block = np.empty(512, dtype=np.float32)
    synth.render_into(block)
    tracemalloc.start()
    before = tracemalloc.get_traced_memory()[0]
    tracemalloc.reset_peak()
    for _ in range(20):
        synth.render_into(block)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak - before < block.nbytes


@pytest.mark.parametrize(
    ("tones", "sentence"),
    [
        ((Tone(0.0),), "outside what can be sounded"),
        ((Tone(float("nan")),), "outside what can be sounded"),
        ((Tone(440.0, float("nan")),), "no level"),
        ((Tone(440.0),) * 25, "more than the reference can sound"),
        ((Tone(440.0, voice="pricipal"),), "no reference voice"),
    ],
)
def test_what_cannot_sound_is_refused_in_a_sentence(tones: tuple[Tone, ...], sentence: str) -> None:
    with pytest.raises(SettingsError, match=sentence):
        Synth(RATE_HZ).set_tones(tones)


def test_an_unknown_voice_names_the_nearest_one() -> None:
    with pytest.raises(SettingsError, match="Did you mean principal"):
        voice_named("pricipal")
