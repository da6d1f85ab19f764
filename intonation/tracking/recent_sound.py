"""The sound that may still be needed, found again by the number of its samples."""

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]


class RecentSound:
    """Remembers steps of samples from the first that is still needed."""

    def __init__(self) -> None:
        self._steps: list[Real] = []
        self._begin = 0

    def append(self, step: Real) -> None:
        """Add the next samples."""
        self._steps.append(step)

    @property
    def end(self) -> int:
        """Number of samples heard so far."""
        return self._begin + sum(step.size for step in self._steps)

    def between(self, begin: int, end: int) -> Real:
        """Return samples ``begin`` up to ``end``, or as far as there are."""
        size = self._steps[0].size
        from_step = (begin - self._begin) // size
        to_step = -(-(end - self._begin) // size)
        held = np.concatenate(self._steps[from_step:to_step])
        at = self._begin + from_step * size
        return held[begin - at : end - at]

    def forget_before(self, sample: int) -> None:
        """Let go of whole steps before a sample."""
        if not self._steps:
            return
        gone = min(max(0, (sample - self._begin) // self._steps[0].size), len(self._steps) - 1)
        self._begin += gone * self._steps[0].size
        del self._steps[:gone]
