"""A listener that exists in the computer only: hears with a bias and a blur, and lapses."""

import math
from dataclasses import dataclass

import numpy as np

from intonation.listening.normal import Z_75
from intonation.listening.trials import Trial


@dataclass(frozen=True, slots=True, kw_only=True)
class SimulatedListener:
    """Stands in for the human being, never for a measurement.

    Parameters
    ----------
    threshold_cents
        75 % threshold; see `intonation.listening.estimate.EarEstimate`.
    bias_cents
        Deviation that sounds in tune.
    lapses
        Share of answers given without listening.
    """

    threshold_cents: float
    bias_cents: float = 0.0
    lapses: float = 0.02

    @property
    def blur_cents(self) -> float:
        """Standard deviation of what is heard."""
        return self.threshold_cents / Z_75

    def answer(self, trial: Trial, rng: np.random.Generator) -> str:
        """Return the listener's choice."""
        if rng.random() < self.lapses:
            return str(rng.choice(trial.choices))
        if trial.choices == ("flat", "sharp"):
            heard_cents = rng.normal(trial.step_cents - self.bias_cents, self.blur_cents)
            return "sharp" if heard_cents > 0 else "flat"
        return self._recognised(trial, rng)

    def tuned_cents(self, rng: np.random.Generator) -> float:
        """Return where the listener leaves a note that is to be tuned."""
        return float(rng.normal(self.bias_cents, self.blur_cents))

    def _recognised(self, trial: Trial, rng: np.random.Generator) -> str:
        clear = abs(trial.step_cents) / self.blur_cents / math.sqrt(2.0)
        if rng.random() < math.erf(clear):  # 2 Φ(d/σ) − 1
            return trial.right
        return str(rng.choice(trial.choices))


@dataclass(frozen=True, slots=True)
class GuessingListener:
    """Answers without listening, choosing the first answer with some preference.

    Parameters
    ----------
    preference
        Share of the first choice; None for all choices alike.
    """

    preference: float | None = None

    def answer(self, trial: Trial, rng: np.random.Generator) -> str:
        """Return any choice."""
        if self.preference is None:
            return str(rng.choice(trial.choices))
        return trial.choices[0] if rng.random() < self.preference else trial.choices[-1]
