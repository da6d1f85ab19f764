"""Where samples come from: microphone, recording and simulated player are read the same way."""

from collections.abc import Callable
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]


class SampleSource(Protocol):
    """Anything that yields mono samples in order."""

    @property
    def sample_rate_hz(self) -> float:
        """Samples per second."""
        ...

    @property
    def exhausted(self) -> bool:
        """Whether no sample will ever come again."""
        ...

    def read(self, frames: int) -> Samples:
        """Return at most ``frames`` samples, none if none are there yet."""
        ...


class Silence:
    """Nothing, without end."""

    def __init__(self, sample_rate_hz: float) -> None:
        self.sample_rate_hz = sample_rate_hz

    @property
    def exhausted(self) -> bool:
        """Never."""
        return False

    def read(self, frames: int) -> Samples:
        """Return zeros."""
        return np.zeros(frames, dtype=np.float32)


class InRealTime:
    """Holds a source that could be read at once to the pace of a clock.

    Parameters
    ----------
    source
        The source to be held back.
    clock_s
        Returns seconds, monotonic. The first read starts the music.
    """

    def __init__(self, source: SampleSource, *, clock_s: Callable[[], float]) -> None:
        self._source = source
        self._clock_s = clock_s
        self._started_s: float | None = None
        self._delivered = 0

    @property
    def sample_rate_hz(self) -> float:
        """Samples per second."""
        return self._source.sample_rate_hz

    @property
    def exhausted(self) -> bool:
        """Whether no sample will ever come again."""
        return self._source.exhausted

    def read(self, frames: int) -> Samples:
        """Return at most ``frames`` of the samples that are due by now."""
        now_s = self._clock_s()
        if self._started_s is None:
            self._started_s = now_s
        due = int((now_s - self._started_s) * self.sample_rate_hz) - self._delivered
        samples = self._source.read(max(0, min(frames, due)))
        self._delivered += samples.size
        return samples
