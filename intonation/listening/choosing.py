"""Which step to present next: the one whose answer is expected to leave the least doubt.

Doubt is the mean logarithm of the variance of the log blur, and of that of the bias, with lapses
averaged out: a step that will surely halve a variance is better than one that may remove it. This
is the psi method (L. L. Kontsevich and C. W. Tyler, Vision Res. 39, 1999, 2729) in its marginal
form (N. Prins, J. Vision 13(7):3, 2013), with the entropy of a normal distribution in place of that
of the table, which costs a tenth of the time and measures as well. Looking further than one answer
ahead does not measure better. See also A. B. Watson, J. Vision 17(3):10, 2017.
"""

import numpy as np
from numpy.typing import NDArray

from intonation.listening.questions import LAPSES, Question

_BIAS_WEIGHT = 0.5
"""How much the bias counts beside the blur: until it is known, no step tells much about the blur.
Chosen by simulation; it may as well be 0.25 or 0.7."""

_AS_GOOD = 0.003
_HARDLY_ANY = 1e-9


def next_step_cents(
    question: Question, weights: NDArray[np.float64], rng: np.random.Generator
) -> float:
    """Return the deviation from which the next answer is expected to teach most.

    Parameters
    ----------
    question
        What is asked.
    weights
        Probability of every listener of the grid and share of lapses, shape (B · S, L).
    rng
        Draws the side of the expected bias, and from the steps there that are nearly as good as
        the best, so that the listener can foresee neither.
    """
    moments = _moments(question, weights)
    listening = weights @ (1.0 - LAPSES)
    lapsing = weights @ LAPSES
    first = question.shares @ (listening[:, None] * moments).astype(np.float32)
    first = first.astype(np.float64) + question.chance * (lapsing @ moments)
    second = (listening + lapsing) @ moments - first
    doubt = _doubt(first, signed=question.signed) + _doubt(second, signed=question.signed)
    if question.signed:
        bias_cents = float(weights.sum(axis=1) @ question.listeners[0])
        sharper = question.steps_cents > bias_cents
        doubt = np.where(sharper == rng.choice((True, False)), doubt, np.inf)
    good = np.flatnonzero(doubt <= doubt.min() + _AS_GOOD)
    return float(question.steps_cents[rng.choice(good)])


def _moments(question: Question, weights: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return 1, log blur and its square, bias and its square, from their means: (B · S, 5)."""
    each = weights.sum(axis=1)
    bias, log_blur = question.listeners
    from_blur, from_bias = log_blur - each @ log_blur, bias - each @ bias
    columns = (np.ones_like(each), from_blur, from_blur**2, from_bias, from_bias**2)
    return np.stack(columns, axis=1)


def _doubt(moments: NDArray[np.float64], *, signed: bool) -> NDArray[np.float64]:
    """Return the doubt that an answer at each step leaves, times how likely it is, (steps,)."""
    likely = np.maximum(moments[:, 0], _HARDLY_ANY)
    doubt = _log_variance(likely, moments[:, 1], moments[:, 2])
    if signed:
        doubt = doubt + _BIAS_WEIGHT * _log_variance(likely, moments[:, 3], moments[:, 4])
    return likely * doubt


def _log_variance(
    likely: NDArray[np.float64], total: NDArray[np.float64], squares: NDArray[np.float64]
) -> NDArray[np.float64]:
    variance = squares / likely - (total / likely) ** 2
    logarithm: NDArray[np.float64] = np.log(np.maximum(variance, _HARDLY_ANY))
    return logarithm
