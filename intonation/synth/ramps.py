"""Fades: half-cosine curves that are walked along sample by sample."""

import numpy as np
from numpy.typing import NDArray

SOFT_START_S = 0.2
"""How long sound takes to rise after a silence, so that nobody is startled (design judgement)."""

LONG_SILENCE_S = 1.0
_FOREVER = 1 << 40


class Ramp:
    """A rise from 0 to 1 over a fixed time, started anew whenever it is needed."""

    def __init__(self, duration_s: float, *, sample_rate_hz: float) -> None:
        length = max(2, round(duration_s * sample_rate_hz))
        steps = (np.arange(length) + 1.0) / length
        self._curve = (0.5 - 0.5 * np.cos(np.pi * steps)).astype(np.float32)
        self._at = length

    @property
    def length(self) -> int:
        """Samples from 0 to 1."""
        return self._curve.size

    @property
    def running(self) -> bool:
        """Whether the rise has begun and not yet ended."""
        return self._at < self._curve.size

    @property
    def samples_left(self) -> int:
        """Samples to the end of the rise; more than anyone will ask for if it is not running."""
        return self._curve.size - self._at if self.running else _FOREVER

    def start(self) -> None:
        """Begin again at 0."""
        self._at = 0

    def take(self, count: int) -> NDArray[np.float32]:
        """Return the next ``count`` values (a view) and walk on."""
        values = self._curve[self._at : self._at + count]
        self._at += count
        return values
