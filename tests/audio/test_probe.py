"""The sound check's test signal: what is told from its return, in rooms that we make ourselves."""

import numpy as np
import pytest
from numpy.typing import NDArray

from intonation.audio.probe import probe_return, probe_signal

RATE_HZ = 48_000
PLAYED_AT = 48_000


def room(
    *, delay: int = 3_000, leak_db: float = -20.0, clock_ppm: float = 0.0, noise_db: float = -70.0
) -> NDArray[np.float32]:
    rng = np.random.default_rng(8)
    heard = 10.0 ** (noise_db / 20.0) * rng.standard_normal(5 * RATE_HZ)
    signal = probe_signal(RATE_HZ)
    played_at = np.arange(signal.size) * (1.0 + 1e-6 * clock_ppm)
    returned = 10.0 ** (leak_db / 20.0) * np.interp(played_at, np.arange(signal.size), signal)
    heard[PLAYED_AT + delay : PLAYED_AT + delay + signal.size] += returned
    return heard.astype(np.float32)


@pytest.mark.parametrize("leak_db", [0.0, -20.0, -45.0])
def test_delay_leak_and_noise_are_found(leak_db: float) -> None:
    found = probe_return(room(leak_db=leak_db), sample_rate_hz=RATE_HZ, played_at=PLAYED_AT)
    assert found.noise_db == pytest.approx(-70.0, abs=0.5)
    assert found.delay_samples == pytest.approx(3_000, abs=2)
    assert found.leak_db == pytest.approx(leak_db, abs=0.3)


@pytest.mark.parametrize("clock_ppm", [-250.0, -20.0, 0.0, 35.0, 280.0])
def test_the_ratio_of_the_clocks_is_found_to_a_part_per_million(clock_ppm: float) -> None:
    found = probe_return(room(clock_ppm=clock_ppm), sample_rate_hz=RATE_HZ, played_at=PLAYED_AT)
    assert found.clock_ppm == pytest.approx(clock_ppm, abs=1.0)


def test_headphones_are_recognised_because_nothing_comes_back() -> None:
    found = probe_return(room(leak_db=-140.0), sample_rate_hz=RATE_HZ, played_at=PLAYED_AT)
    assert (found.delay_samples, found.leak_db, found.clock_ppm) == (None, None, None)
    assert found.noise_db == pytest.approx(-70.0, abs=0.5)


def test_a_microphone_that_is_off_hears_neither_noise_nor_signal() -> None:
    silence = np.zeros(5 * RATE_HZ, dtype=np.float32)
    found = probe_return(silence, sample_rate_hz=RATE_HZ, played_at=PLAYED_AT)
    assert found.noise_db < -110.0
    assert found.leak_db is None


def test_the_test_signal_is_soft() -> None:
    signal = probe_signal(RATE_HZ)
    assert np.max(np.abs(signal)) < 0.03
    assert np.max(np.abs(signal[:50])) < 0.001
