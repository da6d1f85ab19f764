"""Recordings: any format is read alike, and what cannot be read is said in one sentence."""

from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from intonation.audio.sound_files import Recording, read_recording, survey, write_recording
from intonation.errors import SetupError, SoundFileError


def a_tone(rate_hz: int, duration_s: float = 0.5) -> NDArray[np.float64]:
    return 0.3 * np.sin(2 * np.pi * 440.0 * np.arange(round(duration_s * rate_hz)) / rate_hz)


@pytest.mark.parametrize("rate_hz", [8_000, 44_100, 48_000, 96_000, 192_000])
@pytest.mark.parametrize("channels", [1, 2, 6])
@pytest.mark.parametrize("suffix", ["wav", "flac", "aiff"])
def test_any_rate_and_number_of_channels_is_read_as_one_channel(
    tmp_path: Path, rate_hz: int, channels: int, suffix: str
) -> None:
    tone = a_tone(rate_hz)
    path = tmp_path / f"take.{suffix}"
    soundfile.write(path, np.tile(tone[:, np.newaxis], channels), rate_hz, subtype="PCM_24")
    samples, read_rate_hz = read_recording(path)
    assert read_rate_hz == rate_hz
    np.testing.assert_allclose(samples, tone, atol=1e-6)


def test_ogg_is_read_too(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "take.ogg", a_tone(48_000), 48_000)
    assert Recording(tmp_path / "take.ogg").duration_s == pytest.approx(0.5)


@pytest.mark.parametrize("sides", [(1.0, -1.0), (-0.8, 1.0)], ids=["equal", "right louder"])
def test_a_stereo_recording_with_one_side_inverted_is_not_cancelled(
    tmp_path: Path, sides: tuple[float, float]
) -> None:
    tone = a_tone(48_000)
    soundfile.write(tmp_path / "take.wav", np.outer(tone, sides), 48_000)
    samples, _ = read_recording(tmp_path / "take.wav")
    assert np.std(samples) == pytest.approx(np.std(tone), rel=1e-3)


def test_reading_in_blocks_yields_the_same_samples(tmp_path: Path) -> None:
    path = tmp_path / "take.wav"
    soundfile.write(path, a_tone(44_100), 44_100, subtype="FLOAT")
    recording, blocks = Recording(path), []
    while not recording.exhausted:
        blocks.append(recording.read(1_000))
    np.testing.assert_array_equal(np.concatenate(blocks), read_recording(path)[0])
    assert recording.read(1_000).size == 0


def test_what_is_written_is_read_back_exactly_and_by_anyone(tmp_path: Path) -> None:
    samples = np.random.default_rng(1).normal(0, 0.3, 4_800).astype(np.float32)
    write_recording(tmp_path / "render.wav", samples, sample_rate_hz=48_000.0)
    np.testing.assert_array_equal(read_recording(tmp_path / "render.wav")[0], samples)
    assert soundfile.info(tmp_path / "render.wav").subtype == "FLOAT"


def files_that_are_no_recordings(folder: Path) -> dict[str, str]:
    (folder / "words.wav").write_text("This is a letter, not a recording.")
    (folder / "zero bytes.wav").touch()
    soundfile.write(folder / "no frames.wav", np.zeros(0), 48_000)
    soundfile.write(folder / "silence.wav", np.zeros(48_000), 48_000)
    soundfile.write(folder / "numbers.wav", np.full(480, np.nan), 48_000, subtype="FLOAT")
    soundfile.write(folder / "whole.flac", np.random.default_rng(1).normal(0, 0.1, 96_000), 48_000)
    whole = (folder / "whole.flac").read_bytes()
    (folder / "cut.flac").write_bytes(whole[: len(whole) // 2])
    (folder / "headless.raw").write_bytes(bytes(1_000))
    return {
        "words.wav": "cannot be read as a sound file",
        "zero bytes.wav": "cannot be read as a sound file",
        "no frames.wav": "holds no sound at all",
        "silence.wav": "silent from beginning to end",
        "numbers.wav": "is damaged near 0.0 s",
        "cut.flac": "cannot be read as a sound file",
        "headless.raw": "cannot be read as a sound file",
        "missing.wav": "There is no recording",
        ".": "There is no recording",
    }


def test_each_bad_file_gets_one_sentence_with_its_name(tmp_path: Path) -> None:
    for name, sentence in files_that_are_no_recordings(tmp_path).items():
        with pytest.raises(SoundFileError, match=sentence) as raised:
            Recording(tmp_path / name)
        assert "\n" not in str(raised.value)
        assert name.strip(".") in str(raised.value)
        assert raised.value.what_to_do


def test_a_folder_that_is_not_there_is_named_when_writing(tmp_path: Path) -> None:
    with pytest.raises(SoundFileError, match=r"out\.wav cannot be written \(No such file"):
        write_recording(
            tmp_path / "nowhere" / "out.wav", np.ones(9, np.float32), sample_rate_hz=8e3
        )


@pytest.fixture(scope="module")
def a_flac_and_a_wav(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    folder = tmp_path_factory.mktemp("sound")
    soundfile.write(folder / "a.flac", a_tone(8_000), 8_000)
    soundfile.write(folder / "a.wav", a_tone(8_000), 8_000)
    return [(folder / "a.flac").read_bytes(), (folder / "a.wav").read_bytes()]


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    choice=st.integers(0, 1), cuts=st.lists(st.tuples(st.integers(0, 400), st.binary(max_size=9)))
)
def test_a_damaged_file_is_read_or_refused_in_a_sentence_but_never_crashes(
    tmp_path: Path, a_flac_and_a_wav: list[bytes], choice: int, cuts: list[tuple[int, bytes]]
) -> None:
    content = bytearray(a_flac_and_a_wav[choice])
    for at, replacement in cuts:
        content[at : at + len(replacement)] = replacement
    path = tmp_path / "damaged.wav"
    path.write_bytes(content)
    try:
        outcome = f"damaged.wav: {survey(path).frames} frames"
    except SoundFileError as error:
        outcome = error.sentence
    assert "damaged.wav" in outcome


def test_a_missing_library_is_named_with_the_command_that_installs_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    soundfile.write(tmp_path / "take.wav", a_tone(48_000), 48_000)
    monkeypatch.setitem(__import__("sys").modules, "soundfile", None)
    with pytest.raises(SetupError, match=r"libsndfile.*Install it with"):
        read_recording(tmp_path / "take.wav")
