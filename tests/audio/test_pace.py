"""Sources held to the pace of a clock, and the watch over a stream that has stopped."""

from pathlib import Path

import numpy as np

from intonation.audio.sound_files import Recording, read_recording, write_recording
from intonation.audio.sources import InRealTime
from intonation.audio.streams import StallWatch


def test_a_recording_in_real_time_yields_only_what_is_due(tmp_path: Path) -> None:
    samples = np.linspace(0.1, 0.9, 8_000, dtype=np.float32)
    write_recording(tmp_path / "take.wav", samples, sample_rate_hz=8_000.0)
    clock = iter([100.0, 100.25, 100.25, 100.5, 99.0, 103.0])
    source = InRealTime(Recording(tmp_path / "take.wav"), clock_s=lambda: next(clock))
    blocks = [source.read(8_000) for _ in range(6)]
    assert [block.size for block in blocks] == [0, 2_000, 0, 2_000, 0, 4_000]
    assert source.exhausted
    np.testing.assert_array_equal(np.concatenate(blocks), read_recording(tmp_path / "take.wav")[0])


def test_it_is_told_for_how_long_a_count_has_stood_still() -> None:
    watch = StallWatch()
    counted = [(0, 5.0), (512, 5.2), (512, 5.4), (512, 7.7), (1024, 7.8)]
    standing_s = [watch.standing_s(count, now_s=now_s) for count, now_s in counted]
    np.testing.assert_allclose(standing_s, [0.0, 0.0, 0.2, 2.5, 0.0], atol=1e-9)
