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


def test_a_count_that_stands_still_for_a_quarter_of_a_second_is_a_stall() -> None:
    watch = StallWatch()
    assert not watch.stalled(0, now_s=5.0)
    assert not watch.stalled(512, now_s=5.2)
    assert not watch.stalled(512, now_s=5.4)
    assert watch.stalled(512, now_s=5.5)
    assert not watch.stalled(1024, now_s=5.6)
