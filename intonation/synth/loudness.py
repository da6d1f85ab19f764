"""The loudness of the whole reference: changed gently, and never above the ceiling."""

import math

import numpy as np
from numpy.typing import NDArray

from intonation.errors import SettingsError
from intonation.language import say
from intonation.synth.ramps import Ramp

CEILING = 0.7
"""Largest sample value that ever leaves a synthesiser, whatever is asked (−3.1 dBFS)."""

QUIETEST_LOUDNESS_DB = -60.0
LOUDNESS_FADE_S = 0.1


class Loudness:
    """A gain that follows the loudness asked for in steps of a tenth of a second.

    Parameters
    ----------
    sample_rate_hz
        Rate of the samples.
    block_samples
        Most samples that are given to it at once.
    """

    def __init__(self, *, sample_rate_hz: float, block_samples: int) -> None:
        self.loudness_db = 0.0
        self._gain_from, self._gain = 1.0, 1.0
        self._fade = Ramp(LOUDNESS_FADE_S, sample_rate_hz=sample_rate_hz)
        self._curve = np.zeros(block_samples, dtype=np.float32)

    @property
    def gain(self) -> float:
        """The loudness asked for, as a factor."""
        return float(10.0 ** (self.loudness_db / 20.0))

    @property
    def samples_left(self) -> int:
        """Samples to the end of the change that is going on."""
        return self._fade.samples_left

    def ask(self, loudness_db: float) -> None:
        """Ask for a loudness in dB; 0 is the loudest there is, −60 the quietest.

        Raises
        ------
        SettingsError
            If it is not a number.
        """
        if math.isnan(loudness_db):
            raise SettingsError(
                say("The loudness is not a number."), say("Give it in dB, from -60 to 0.")
            )
        self.loudness_db = min(0.0, max(QUIETEST_LOUDNESS_DB, loudness_db))

    def follow(self, *, sounding: bool) -> None:
        """Begin the change that was asked for, at once if nothing sounds."""
        gain = self.gain
        if gain == self._gain or self._fade.running:
            return
        self._gain_from, self._gain = (self._gain if sounding else gain), gain
        if sounding:
            self._fade.start()

    def apply(self, mix: NDArray[np.float32], out: NDArray[np.float32]) -> None:
        """Write the samples at their loudness, under the ceiling, to ``out``; changes ``mix``."""
        if self._fade.running:
            curve = self._curve[: mix.size]
            np.multiply(self._fade.take(mix.size), self._gain - self._gain_from, out=curve)
            curve += self._gain_from
            mix *= curve
        else:
            mix *= self._gain
        np.clip(mix, -CEILING, CEILING, out=out)
