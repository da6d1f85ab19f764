"""``intonation render`` writes exactly what would sound: right pitch, right moment."""

from pathlib import Path

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from intonation.cli.main import main
from intonation.exercise.interpretation import Interpretation
from intonation.exercise.library import exercise_named
from intonation.exercise.realise import realise
from intonation.pitch.cents import cents_between
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered
from intonation.synth.soundfont_writer import soundfont
from tests.support.libraries import needs_fluidsynth

RATE_HZ = 48_000


def rendered(*arguments: str, folder: Path) -> NDArray[np.float64]:
    output = folder / "out.wav"
    assert main(["render", *arguments, "--output", str(output)]) == 0
    assert soundfile.info(output).subtype == "FLOAT"
    samples, rate_hz = soundfile.read(output)
    assert rate_hz == RATE_HZ
    return samples


def heard_hz(samples: NDArray[np.float64], *, near_hz: float) -> float:
    """Measure one partial: the advance of its phase from the first half to the second."""
    half = len(samples) // 2
    times_s = np.arange(half) / RATE_HZ
    shift_down = np.hanning(half) * np.exp(-2j * np.pi * near_hz * times_s)
    halves = (samples[:half], samples[half : 2 * half])
    first, second = (np.sum(part * shift_down) for part in halves)
    advance = np.angle(second / first * np.exp(-2j * np.pi * near_hz * half / RATE_HZ))
    return float(near_hz + advance / (2 * np.pi * half / RATE_HZ))


def level(samples: NDArray[np.float64], hz: float) -> float:
    times_s = np.arange(len(samples)) / RATE_HZ
    window = np.hanning(len(samples))
    return float(abs(np.sum(samples * window * np.exp(-2j * np.pi * hz * times_s))) / window.sum())


# Ratios of the pure major triad, 4:5:6 (H. von Helmholtz, On the Sensations of Tone; from memory),
# over the middle C that MIDI 1.0 and ISO 16 give.
@pytest.mark.parametrize(
    ("sounds", "within_cents"),
    [
        ((), 0.001),
        pytest.param(("--soundfont", "exact"), 0.03, marks=needs_fluidsynth()),
    ],
)
def test_a_pure_triad_sounds_four_five_six(
    sounds: tuple[str, ...], within_cents: float, tmp_path: Path
) -> None:
    samples = rendered(
        "--notes", "C4,E4,G4", "--tuning", "pure", "--tonic", "C", "--seconds", "4", *sounds,
        folder=tmp_path,
    )  # fmt: skip
    steady = samples[RATE_HZ : 3 * RATE_HZ]
    for ratio in (1.0, 1.25, 1.5):
        expected_hz = 261.6255653 * ratio
        measured_hz = heard_hz(steady, near_hz=expected_hz)
        assert abs(cents_between(measured_hz, target_hz=expected_hz)) < within_cents


def test_the_equal_tempered_third_beats_ten_times_a_second(tmp_path: Path) -> None:
    samples = rendered("--notes", "C4,E4", "--tuning", "equal", "--seconds", "4", folder=tmp_path)
    steady = samples[RATE_HZ : 3 * RATE_HZ]
    fifth_partial, fourth_partial = 5 * 261.6255653, 4 * 329.6275569
    beats = heard_hz(steady, near_hz=fourth_partial) - heard_hz(steady, near_hz=fifth_partial)
    assert beats == pytest.approx(10.382, abs=0.01)  # B. Capleton (2007): 10.4


def test_every_tone_of_a_tune_sounds_where_the_score_has_it(tmp_path: Path) -> None:
    samples = rendered("jesu-meine-freude", "--phrase", "1", "--tempo", "40", folder=tmp_path)
    how = Interpretation(
        lowest_midi=65, highest_midi=91, tuning=tempered(temperament_named("equal"), a4_hz=440.0),
        tempo=40.0,
    )  # fmt: skip
    score = realise(exercise_named("jesu-meine-freude").of_phrases(0), how)
    errors_cents = [
        abs(cents_between(heard_hz(samples[start:end], near_hz=tone.hz), target_hz=tone.hz))
        for tone in score.reference
        if tone.role in ("bass", "chord")
        for start, end in [(round((tone.start_s + 0.4) * RATE_HZ), round(tone.end_s * RATE_HZ))]
    ]
    assert len(errors_cents) > 20
    assert max(errors_cents) < 0.001


def test_ones_own_temperament_sounds(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text('[fifths]\nC-G = "1/4"\nG-D = "1/4"\nD-A = "1/4"\n')
    samples = rendered("--notes", "C4", "--tuning", str(own), "--seconds", "2", folder=tmp_path)
    # Three fifths C-G-D-A, each narrow by a quarter of the Pythagorean comma, put C 11.73 cents
    # above equal temperament when A is the concert pitch, as Werckmeister III has it.
    heard = heard_hz(samples[RATE_HZ : 2 * RATE_HZ], near_hz=263.4)
    assert cents_between(heard, target_hz=261.6255653) == pytest.approx(11.73, abs=0.01)


def test_a_chord_change_comes_on_its_sample(tmp_path: Path) -> None:
    tune = tmp_path / "two.toml"
    tune.write_text(
        'title = "t"\nkind = "melody"\nlisten = "l"\ntempo = 60\ncount_in = 1\n'
        '[[phrase]]\nnotes = "A5:2 B5:2"\nchords = "F:2 G:2"\n'
    )
    samples = rendered(str(tune), "--tuning", "equal", folder=tmp_path)
    third_of_f, third_of_g = 220.0, 246.9417
    before = samples[2 * RATE_HZ : round(2.98 * RATE_HZ)]
    after = samples[round(3.1 * RATE_HZ) : 4 * RATE_HZ]
    assert level(before, third_of_f) > 100 * level(before, third_of_g)
    assert level(after, third_of_g) > 100 * level(after, third_of_f)
    assert len(samples) == pytest.approx(5.5 * RATE_HZ)


def test_the_file_ends_in_silence_without_a_click(tmp_path: Path) -> None:
    samples = rendered("--notes", "A4", "--seconds", "1", folder=tmp_path)
    assert np.abs(samples[-RATE_HZ // 10 :]).max() == 0.0
    assert np.abs(np.diff(samples)).max() < 0.05


def test_the_same_seed_gives_the_same_order(tmp_path: Path) -> None:
    first = rendered("slow-scale-chromatic", "--with-melody", "--tempo", "240", folder=tmp_path)
    again = rendered("slow-scale-chromatic", "--with-melody", "--tempo", "240", folder=tmp_path)
    other = rendered(
        "slow-scale-chromatic", "--with-melody", "--tempo", "240", "--seed", "5", folder=tmp_path
    )
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)


def test_a_phrase_can_be_rendered_as_a_loop(tmp_path: Path) -> None:
    once = rendered("innsbruck", "--phrase", "2", "--tempo", "120", folder=tmp_path)
    twice = rendered(
        "innsbruck", "--phrase", "2", "--times", "2", "--tempo", "120", folder=tmp_path
    )
    assert len(twice) - len(once) == pytest.approx(9 * 0.5 * RATE_HZ)


@pytest.mark.parametrize("preset", [pytest.param("1", marks=needs_fluidsynth())])
def test_a_soundfont_of_ones_own_is_measured_and_its_error_said_before_it_sounds(
    preset: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.sf2"
    own.write_bytes(soundfont())
    samples = rendered(
        "--notes", "A4", "--seconds", "2", "--soundfont", str(own), "--preset", preset,
        folder=tmp_path,
    )  # fmt: skip
    assert "own.sf2 is up to 0." in capsys.readouterr().out
    heard = heard_hz(samples[RATE_HZ : 2 * RATE_HZ], near_hz=440.0)
    assert abs(cents_between(heard, target_hz=440.0)) < 1.0


@pytest.mark.parametrize(
    "arguments",
    [
        ["innsbruk"],
        ["innsbruck", "--soundfont", "missing.sf2"],
        ["innsbruck", "--soundfont", __file__],
        ["innsbruck", "--soundfont", "missing.sf2", "--preset", "piano"],
        ["innsbruck", "--notes", "C4"],
        [],
        ["innsbruck", "--phrase", "9"],
        ["innsbruck", "--times", "0"],
        ["innsbruck", "--tempo", "5"],
        ["innsbruck", "--instrument", "kazoo"],
        ["--notes", "C4,H4"],
        ["--notes", ","],
        ["--notes", "C4", "--tuning", "nope"],
        ["--notes", "C4", "--voice", "nope"],
        ["--notes", "C4", "--seconds", "nan"],
        ["--notes", "C4", "--seconds", "1e9"],
        ["--notes", "C4", "--a4", "300"],
        ["--notes", "C4", "--tonic", "Z"],
        ["--notes", "C-1"],
        ["missing.toml"],
    ],
)
def test_what_cannot_be_rendered_is_refused_in_one_line_and_writes_nothing(
    arguments: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "out.wav"
    assert main(["render", *arguments, "--output", str(output)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert not output.exists()
