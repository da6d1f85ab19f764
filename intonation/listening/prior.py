"""What is believed of a listener before the first answer, and what earlier results add to it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from intonation.listening.estimate import EarEstimate
from intonation.listening.normal import Z_95

SPREAD_BETWEEN_INTERVALS = 0.5
"""How much the log blur of one listener differs between intervals or registers (design judgement):
a factor of 1.6 either way."""

CHANGE_BETWEEN_DAYS = 0.3
"""How much it may have changed since it was last measured (design judgement)."""

_BIAS_CHANGE_CENTS = 2.0

FINEST_BLUR_CENTS, COARSEST_BLUR_CENTS = 1.2, 74.0
"""A threshold of 0.8 cents, finer than any that is published for pitch, and of a quarter-tone, the
largest step that is presented."""

_EDGE = 0.1
"""How softly these bounds end, in units of the log blur."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """A normal distribution for the logarithm of the blur, and one for the bias.

    The blur besides lies within `FINEST_BLUR_CENTS` and `COARSEST_BLUR_CENTS`, or hardly beyond.

    Parameters
    ----------
    log_blur, log_blur_sd
        Natural logarithm of the blur in cents.
    bias_cents, bias_sd_cents
        The deviation that sounds in tune.

    Notes
    -----
    The default takes thresholds from 1 to 40 cents for about equally likely: musicians and
    non-musicians differ by a factor of four to six (C. Micheyl et al., Hear. Res. 219, 2006, 36),
    and practice narrows it. Its centre and the spread of the bias are a design judgement.
    """

    log_blur: float = math.log(9.0)
    log_blur_sd: float = 4.0
    bias_cents: float = 0.0
    bias_sd_cents: float = 5.0

    def weights(self, log_blur: NDArray[np.float64], bias_cents: ArrayLike) -> NDArray[np.float64]:
        """Return how likely some listeners are, but for a common factor."""
        from_blur = (log_blur - self.log_blur) / self.log_blur_sd
        from_bias = (np.asarray(bias_cents) - self.bias_cents) / self.bias_sd_cents
        normal = np.exp(-0.5 * (from_blur**2 + from_bias**2))
        above = 1.0 + np.exp((math.log(FINEST_BLUR_CENTS) - log_blur) / _EDGE)
        below = 1.0 + np.exp((log_blur - math.log(COARSEST_BLUR_CENTS)) / _EDGE)
        within: NDArray[np.float64] = normal / (above * below)
        return within


UNKNOWN_LISTENER = Prior()


def prior_from(others: Sequence[EarEstimate], *, before: EarEstimate | None = None) -> Prior:
    """Return the prior for one interval from what was measured earlier.

    Parameters
    ----------
    others
        Results of the same listener with other intervals or registers.
    before
        The last result of this very interval, if there is one; the others then count for nothing.
    """
    if before is not None and before.standing == "measured":
        return _since(before)
    measured = [each for each in others if each.standing == "measured"]
    if not measured:
        return UNKNOWN_LISTENER
    weights = [1.0 / (SPREAD_BETWEEN_INTERVALS**2 + each.log_blur_sd**2) for each in measured]
    prior_weight = 1.0 / UNKNOWN_LISTENER.log_blur_sd**2
    total = sum(weights) + prior_weight
    pairs = zip(weights, measured, strict=True)
    mean = sum(w * each.log_blur for w, each in pairs) + prior_weight * UNKNOWN_LISTENER.log_blur
    sd = math.sqrt(SPREAD_BETWEEN_INTERVALS**2 + 1.0 / total)
    return Prior(log_blur=mean / total, log_blur_sd=min(sd, UNKNOWN_LISTENER.log_blur_sd))


def _since(before: EarEstimate) -> Prior:
    log_blur_sd = math.hypot(before.log_blur_sd, CHANGE_BETWEEN_DAYS)
    bias = before.bias_cents
    if bias is None:
        return Prior(log_blur=before.log_blur, log_blur_sd=log_blur_sd)
    bias_sd_cents = (bias.high - bias.low) / (2.0 * Z_95)
    return Prior(
        log_blur=before.log_blur,
        log_blur_sd=log_blur_sd,
        bias_cents=bias.value,
        bias_sd_cents=math.hypot(bias_sd_cents, _BIAS_CHANGE_CENTS),
    )
