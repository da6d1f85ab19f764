"""A ring of samples between one thread that writes and one that reads, without a lock."""

import numpy as np

from intonation.audio.sources import Samples


class SampleRing:
    """Samples on their way from the sound card's thread to ours.

    The writer alone moves ``_written``, the reader alone ``_read``, and each moves its own only
    after its copy is done; so neither ever waits for the other.

    Parameters
    ----------
    capacity
        Number of samples that fit.
    """

    def __init__(self, capacity: int) -> None:
        self._samples = np.zeros(capacity, dtype=np.float32)
        self._written = 0
        self._read = 0
        self.dropped_samples = 0

    @property
    def waiting(self) -> int:
        """Samples written and not yet read."""
        return self._written - self._read

    @property
    def written_samples(self) -> int:
        """Samples taken in since the beginning."""
        return self._written

    def write(self, samples: Samples) -> None:
        """Copy samples in; those that do not fit are dropped and counted."""
        count = min(samples.size, self._samples.size - self.waiting)
        start = self._written % self._samples.size
        first = min(count, self._samples.size - start)
        self._samples[start : start + first] = samples[:first]
        self._samples[: count - first] = samples[first:count]
        self.dropped_samples += samples.size - count
        self._written += count

    def read(self, frames: int) -> Samples:
        """Return (a copy of) the oldest samples, at most ``frames``."""
        count = min(frames, self.waiting)
        start = self._read % self._samples.size
        first = min(count, self._samples.size - start)
        taken = np.empty(count, dtype=np.float32)
        taken[:first] = self._samples[start : start + first]
        taken[first:] = self._samples[: count - first]
        self._read += count
        return taken
