"""What is believed of a listener before the first answer, and what earlier results add to it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.listening.estimate import EarEstimate
from intonation.listening.normal import Z_75, Z_95
from intonation.listening.questions import LOG_BLUR

SPREAD_BETWEEN_INTERVALS = 0.4
"""How much the log blur of one listener differs between intervals or registers (design judgement):
a factor of 1.5 either way."""

CHANGE_BETWEEN_DAYS = 0.3
"""How much it may have changed since it was last measured (design judgement)."""

_BIAS_CHANGE_CENTS = 2.0

_USUAL_CENTS, _BEYOND = (0.95, 43.5), 0.05
"""Thresholds of an unknown listener, and how likely others are beside them (design judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prior:
    """How likely every blur of `LOG_BLUR` is, and a normal distribution for the bias.

    Parameters
    ----------
    blurs
        Probability of every blur, shape (S,).
    bias_cents, bias_sd_cents
        The deviation that sounds in tune.

    Notes
    -----
    An unknown listener may have any threshold from 1 to 43 cents, all equally likely on a
    logarithmic scale, and hardly one beyond: musicians and non-musicians differ by a factor of
    four to six (C. Micheyl et al., Hear. Res. 219, 2006, 36), and practice narrows it. The spread
    of the bias is a design judgement.
    """

    blurs: NDArray[np.float64]
    bias_cents: float = 0.0
    bias_sd_cents: float = 5.0

    @property
    def log_blur(self) -> float:
        """Mean of the blur's natural logarithm."""
        return float(self.blurs @ LOG_BLUR)

    @property
    def log_blur_sd(self) -> float:
        """Standard deviation of the same."""
        return math.sqrt(float(self.blurs @ (LOG_BLUR - self.log_blur) ** 2))

    def weights(self, bias_cents: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return how likely listeners of each bias and blur are: shape (B, S), but for a factor.

        A question that cannot tell a bias has one bias only, which is then as likely as any.
        """
        from_bias = (bias_cents - self.bias_cents) / self.bias_sd_cents
        normal = np.exp(-0.5 * (from_bias**2 - np.min(from_bias**2)))
        weights: NDArray[np.float64] = normal[:, None] * self.blurs
        return weights


def _unknown() -> Prior:
    finest, coarsest = _USUAL_CENTS
    thresholds_cents = Z_75 * np.exp(LOG_BLUR)
    usual = (thresholds_cents >= finest) & (thresholds_cents <= coarsest)
    blurs = np.where(usual, 1.0, _BEYOND)
    return Prior(blurs=blurs / blurs.sum())


UNKNOWN_LISTENER = _unknown()


def prior_from(others: Sequence[EarEstimate], *, before: EarEstimate | None = None) -> Prior:
    """Return the prior for one interval from what was measured earlier.

    Parameters
    ----------
    others
        Results of the same listener with other intervals or registers.
    before
        The last result of this very interval, if there is one; the others then count for nothing.

    Notes
    -----
    Every interval's log blur lies around a middle of the listener's own. The middle is weighed by
    the answers themselves, not by the estimates: these are all drawn towards the middle of
    what is possible, and several of them together would be so no less.
    """
    if before is not None and before.standing == "measured":
        return _since(before)
    measured = [each for each in others if each.standing == "measured"]
    if not measured:
        return UNKNOWN_LISTENER
    around = _spread(SPREAD_BETWEEN_INTERVALS)
    middle = np.prod([each.evidence @ around for each in measured], axis=0)
    middle *= UNKNOWN_LISTENER.blurs
    return Prior(blurs=around @ (middle / middle.sum()))


def _since(before: EarEstimate) -> Prior:
    log_blur_sd = math.hypot(before.log_blur_sd, CHANGE_BETWEEN_DAYS)
    blurs = np.exp(-0.5 * ((LOG_BLUR - before.log_blur) / log_blur_sd) ** 2)
    blurs /= blurs.sum()
    bias = before.bias_cents
    if bias is None:
        return Prior(blurs=blurs)
    bias_sd_cents = (bias.high - bias.low) / (2.0 * Z_95)
    return Prior(
        blurs=blurs,
        bias_cents=bias.value,
        bias_sd_cents=math.hypot(bias_sd_cents, _BIAS_CHANGE_CENTS),
    )


def _spread(sd: float) -> NDArray[np.float64]:
    """Return how likely every blur is around every middle: (S, S), each column adding up to 1."""
    density = np.exp(-0.5 * ((LOG_BLUR[:, None] - LOG_BLUR) / sd) ** 2)
    spread: NDArray[np.float64] = density / density.sum(axis=0)
    return spread
