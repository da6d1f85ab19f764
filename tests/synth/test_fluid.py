"""The reference through FluidSynth: sub-cent pitches from a synthesiser that floors them."""

import io
import sys
from contextlib import redirect_stdout
from pathlib import Path

import numpy as np
import pytest

from intonation.errors import DataFileError, SettingsError, SetupError
from intonation.pitch.cents import shifted_hz
from intonation.pitch.notes import equal_tempered_hz
from intonation.synth.fluid import FluidSynth
from intonation.synth.loudness import CEILING
from intonation.synth.soundfont_check import check_font
from intonation.synth.soundfont_writer import soundfont
from intonation.synth.sounds import PlayersFont
from intonation.synth.tones import Tone
from intonation.synth.voices import VOICES
from tests.support.libraries import needs_fluidsynth
from tests.support.steady_sound import (
    complex_amplitudes,
    frequency_error_cents,
    residual_db,
    roughest_step_db,
)

pytestmark = needs_fluidsynth()

RATE_HZ = 48_000
STEADY_VOICES = [name for name, voice in VOICES.items() if voice.plucked_every_s is None]


@pytest.fixture(scope="module")
def synth() -> FluidSynth:
    return FluidSynth(RATE_HZ)


def sounding(synth: FluidSynth, *tones: Tone) -> FluidSynth:
    synth.set_loudness(0.0)
    synth.set_tones(())
    synth.render(RATE_HZ)
    synth.set_tones(tones)
    synth.render(RATE_HZ // 2)
    return synth


def test_every_pitch_from_c2_to_c8_is_within_three_hundredths_of_a_cent(synth: FluidSynth) -> None:
    rng = np.random.default_rng(5)
    for midi, voice in zip(rng.uniform(36, 108, 40), STEADY_VOICES * 14, strict=False):
        asked_hz = equal_tempered_hz(float(midi), a4_hz=440.0)
        samples = sounding(synth, Tone(asked_hz, voice=voice)).render(RATE_HZ).astype(float)
        assert abs(frequency_error_cents(samples, RATE_HZ, expected_hz=asked_hz)) < 0.03


@pytest.mark.parametrize("cents", [0.3, 0.99, -0.1, 1.955, 49.99, 50.01, 349.6, -250.2])
def test_fractions_of_a_cent_and_zone_borders_sound_as_asked(
    synth: FluidSynth, cents: float
) -> None:
    """Alone, the library sounds +0.99 c as 0 and −0.1 c as −1."""
    asked_hz = shifted_hz(440.0, cents=cents)
    samples = sounding(synth, Tone(asked_hz)).render(RATE_HZ).astype(float)
    assert abs(frequency_error_cents(samples, RATE_HZ, expected_hz=asked_hz)) < 0.01


@pytest.mark.parametrize("voice", STEADY_VOICES)
def test_little_but_its_partials_sounds(synth: FluidSynth, voice: str) -> None:
    for hz in (65.41, 441.7, 1234.5678, 4186.0):
        sounding(synth, Tone(hz, voice=voice))
        partials_hz = [partial.hz for partial in synth.partials()]
        samples = synth.render(RATE_HZ // 4).astype(float)
        assert residual_db(samples, RATE_HZ, partials_hz) < -65.0


def test_partials_sound_at_the_levels_that_are_reported(synth: FluidSynth) -> None:
    sounding(synth, Tone(220.0, -3.0, "reed"), Tone(334.1, -9.0, "strings"))
    partials = synth.partials()
    samples = synth.render(RATE_HZ // 4).astype(float)
    amplitudes = complex_amplitudes(samples, RATE_HZ, [partial.hz for partial in partials])
    measured_db = 20.0 * np.log10(np.abs(amplitudes) / np.sqrt(2.0))
    np.testing.assert_allclose(measured_db, [partial.level_db for partial in partials], atol=0.15)


@pytest.mark.parametrize("root_hz", [130.81, 261.63, 391.995])
def test_a_pure_triad_beats_slower_than_once_in_fifty_seconds(
    synth: FluidSynth, root_hz: float
) -> None:
    """Shared partials 5:4 and 3:2 of a triad 4:5:6; the beat is the turn of their difference."""
    pairs = {5.0: (root_hz, 1.25 * root_hz), 3.0: (root_hz, 1.5 * root_hz)}
    for multiple, tones_hz in pairs.items():
        turns_hz = []
        for hz in tones_hz:
            samples = sounding(synth, Tone(hz)).render(2 * RATE_HZ).astype(float)
            error = frequency_error_cents(samples, RATE_HZ, expected_hz=hz)
            turns_hz.append(multiple * root_hz * (2.0 ** (error / 1200.0) - 1.0))
        assert abs(turns_hz[0] - turns_hz[1]) < 0.02


def test_no_change_clicks(synth: FluidSynth) -> None:
    sounding(synth)
    changes = ((Tone(440.0),), (Tone(330.0), Tone(415.0)), (Tone(330.0),), ())
    stretches = []
    for tones in changes:
        synth.set_tones(tones)
        stretches.append(synth.render(RATE_HZ // 4))
    samples = np.concatenate(stretches).astype(float)
    assert roughest_step_db(samples, RATE_HZ, above_hz=13_000.0) < -80.0


def test_a_tone_that_stays_in_the_chord_goes_on_undisturbed(synth: FluidSynth) -> None:
    stays = Tone(264.0, -6.0)

    def heard() -> tuple[float, complex]:
        partials_hz = sorted({partial.hz for partial in synth.partials()})
        samples = synth.render(RATE_HZ // 4).astype(float)
        return partials_hz[0], complex_amplitudes(samples, RATE_HZ, partials_hz)[0]

    sounding(synth, stays, Tone(330.0, -6.0))
    hz, before = heard()
    synth.set_tones((stays, Tone(352.0, -6.0)))
    synth.render(RATE_HZ // 2)
    _, after = heard()
    turned = np.angle(after / before * np.exp(-2j * np.pi * hz * 0.75))
    assert abs(turned) < 0.01


def test_the_ceiling_holds(synth: FluidSynth) -> None:
    sounding(synth, *(Tone(220.0 + 11.0 * number, 10.0, "strings") for number in range(24)))
    assert np.max(np.abs(synth.render(RATE_HZ))) <= CEILING


def test_after_a_silence_it_starts_softly_and_a_change_of_chord_does_not(
    tmp_path: Path,
) -> None:
    """A struck SoundFont would begin at its loudest, in ears that have just put headphones on."""
    path = tmp_path / "own.sf2"
    path.write_bytes(soundfont())
    synth = FluidSynth(RATE_HZ, font=PlayersFont(path))
    synth.set_tones((Tone(440.0),))
    start, steady = synth.render(RATE_HZ // 20), synth.render(RATE_HZ)[RATE_HZ // 2 :]
    assert np.abs(start).max() < 0.2 * np.abs(steady).max()
    synth.set_tones((Tone(330.0),))
    changed = synth.render(RATE_HZ // 4)
    assert np.std(changed[RATE_HZ // 10 :]) > 0.7 * np.std(steady)
    synth.close()


def test_it_falls_silent(synth: FluidSynth) -> None:
    sounding(synth, Tone(440.0))
    assert not synth.silent
    synth.set_tones(())
    synth.render(RATE_HZ)
    assert synth.silent


def test_an_unknown_voice_is_refused(synth: FluidSynth) -> None:
    with pytest.raises(SettingsError, match="no reference voice"):
        synth.set_tones((Tone(440.0, voice="kazoo"),))


def test_a_players_font_is_measured_against_equal_temperament(tmp_path: Path) -> None:
    path = tmp_path / "own.sf2"
    path.write_bytes(soundfont())
    report = check_font(PlayersFont(path, program=1, bank=60), notes_midi=(48, 61, 84))
    assert report.worst_cents < 1.0
    assert report.wobble_cents < 0.02
    assert [note.midi for note in report.notes] == [48, 61, 84]


def test_a_font_that_is_out_of_tune_is_never_called_a_reference() -> None:
    path = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
    if not path.exists():
        pytest.skip("the package fluid-soundfont-gm is missing")
    report = check_font(PlayersFont(path, program=19), notes_midi=(48, 69))
    assert report.worst_cents > 5.0
    assert "not a reference to tune to" in report.sentence


def test_a_preset_that_is_not_there_is_named(tmp_path: Path) -> None:
    path = tmp_path / "own.sf2"
    path.write_bytes(soundfont())
    with pytest.raises(DataFileError, match=r"own\.sf2 has no preset 99 in bank 0"):
        FluidSynth(RATE_HZ, font=PlayersFont(path, program=99))


def test_a_missing_library_is_named_with_the_command_that_installs_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "fluidsynth", None)
    with pytest.raises(SetupError, match=r"FluidSynth library is missing.*Install it with"):
        FluidSynth(RATE_HZ)


def test_loading_the_library_prints_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CI", "true")
    monkeypatch.delitem(sys.modules, "fluidsynth", raising=False)
    printed = io.StringIO()
    with redirect_stdout(printed):
        FluidSynth(RATE_HZ).close()
    assert not printed.getvalue()
