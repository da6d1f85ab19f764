"""What sounds all the time, such as the hum of the mains: learned while nothing else sounds."""

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

_RISE, _FALL, _LEAST_POWER = 1.03, 0.9, 1e-10
"""By 13 dB per second up and by 46 down: what goes on is the least there was."""
_LEARNING_FRAMES = 30
_HARDLY_MORE, _LITTLE = 3.0, 0.01


class ConstantSound:
    """The power in each bin of a spectrum that is always there.

    Parameters
    ----------
    bins
        How many there are.
    """

    def __init__(self, bins: int) -> None:
        self._power = np.zeros(bins)
        self._heard, self._sum = 0, 0.0

    def matters_beside(self, sum_of_powers: float) -> bool:
        """Whether it is known and not far below so much power in all bins together."""
        return self._is_learned and self._sum > _LITTLE * sum_of_powers

    def without(self, power: Real) -> Real:
        """Return what is left of a power spectrum, shape ``(bins,)``."""
        return power - np.minimum(self._power, power)

    def explains(self, power: float, *, place: int) -> bool:
        """Whether the power in a bin is hardly more than what is always there."""
        return self._is_learned and power < _HARDLY_MORE * float(self._power[place])

    def learn(self, power: Real) -> None:
        """Take the spectrum of a moment in which no note sounds."""
        if self._heard:
            highest = _RISE * self._power + _LEAST_POWER
            self._power = np.clip(power, _FALL * self._power, highest)
        else:
            self._power = power
        self._heard += 1
        self._sum = float(self._power.sum())

    @property
    def _is_learned(self) -> bool:
        return self._heard > _LEARNING_FRAMES
