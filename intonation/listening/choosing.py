"""Which step to present next: the one after which, two answers on, least doubt is left.

Doubt is the variance of the log blur, and of the bias in units of the blur, with lapses averaged
out. This is the psi method (L. L. Kontsevich and C. W. Tyler, Vision Res. 39, 1999, 2729) in its
marginal form (N. Prins, J. Vision 13(7):3, 2013), with variance in place of entropy, which costs a
tenth of the time and measures as well, and with one answer more of looking ahead, which makes the
error after thirty answers a twentieth smaller. See also A. B. Watson, J. Vision 17(3):10, 2017.
"""

import numpy as np
from numpy.typing import NDArray

from intonation.listening.questions import LAPSES, Question

Single = NDArray[np.float32]

_BIAS_WEIGHT = 0.7
"""How much the bias counts beside the blur: until it is known, no step tells much about the blur.
Chosen by simulation."""

_CANDIDATES, _APART, _LATER_STRIDE = 8, 3, 2
_AS_GOOD = 0.99


def next_step_cents(
    question: Question, weights: NDArray[np.float64], rng: np.random.Generator
) -> float:
    """Return the deviation from which the next answers are expected to teach most.

    Parameters
    ----------
    question
        What is asked.
    weights
        Probability of every listener of the grid and share of lapses, shape (B · S, L).
    rng
        Draws from the steps that are as good as the best within one per cent, so that the
        listener cannot foresee them.
    """
    moments = _moments(question, weights)
    heard, mixed, lapsed = _by_lapses(weights)
    now = _removed(question, heard + mixed, mixed + lapsed, moments)
    candidates = _best_apart(now)
    listening, chance = question.shares[candidates], np.float32(question.chance)
    first_heard = listening * heard + chance * mixed
    first_lapsed = listening * mixed + chance * lapsed
    after_first = _removed(question, first_heard, first_lapsed, moments, stride=_LATER_STRIDE)
    after_second = _removed(
        question,
        heard + mixed - first_heard,
        mixed + lapsed - first_lapsed,
        moments,
        stride=_LATER_STRIDE,
    )
    both = now[0, candidates] + after_first.max(axis=1) + after_second.max(axis=1)
    good = candidates[both >= _AS_GOOD * both.max()]
    return float(question.steps_cents[rng.choice(good)])


def _by_lapses(weights: NDArray[np.float64]) -> tuple[Single, Single, Single]:
    """Return the belief times both answers being listened to, one of them, and none, (1, B · S)."""
    heard = weights @ (1.0 - LAPSES) ** 2
    mixed = weights @ (LAPSES * (1.0 - LAPSES))
    lapsed = weights @ LAPSES**2
    return _single(heard), _single(mixed), _single(lapsed)


def _single(weights: NDArray[np.float64]) -> Single:
    return weights.astype(np.float32)[None]


def _moments(question: Question, weights: NDArray[np.float64]) -> Single:
    """Return 1, log blur, and bias in weighted units of the blur, from their means: (B · S, 3)."""
    each = weights.sum(axis=1)
    bias, log_blur = question.listeners
    mean_log_blur = each @ log_blur
    unit = np.exp(mean_log_blur) / np.sqrt(_BIAS_WEIGHT)
    columns = (np.ones_like(each), log_blur - mean_log_blur, (bias - each @ bias) / unit)
    return np.stack(columns, axis=1).astype(np.float32)


def _removed(
    question: Question, attentive: Single, lapsing: Single, moments: Single, *, stride: int = 1
) -> NDArray[np.float64]:
    """Return the variance that an answer at each step is expected to remove from some beliefs.

    Parameters
    ----------
    question
        What is asked.
    attentive, lapsing
        Probability of every listener times that of listening and of lapsing, shapes (N, B · S);
        they need not add up to 1, and what is removed counts by their sum.
    moments
        See `_moments`.
    stride
        Look at every so many steps only.

    Returns
    -------
    ndarray
        Shape (N, steps).
    """
    side_by_side = (attentive.T[:, :, None] * moments[:, None, :]).reshape(len(moments), -1)
    shares = question.shares[::stride]
    first = (shares @ side_by_side).astype(np.float64).reshape(len(shares), len(attentive), 3)
    first += question.chance * (lapsing @ moments)
    total = (attentive + lapsing) @ moments
    gain: NDArray[np.float64] = _spread(first) + _spread(total - first) - _spread(total)
    return gain.T


def _spread(moments: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return squared first moments over the zeroth."""
    spread: NDArray[np.float64] = (moments[..., 1:] ** 2).sum(axis=-1) / moments[..., 0]
    return spread


def _best_apart(gain: NDArray[np.float64]) -> NDArray[np.intp]:
    """Return the steps with the largest gains, no two of them next to each other."""
    chosen: list[int] = []
    for at in np.argsort(gain[0])[::-1].tolist():
        if all(abs(at - other) >= _APART for other in chosen):
            chosen.append(at)
        if len(chosen) == _CANDIDATES:
            break
    return np.array(chosen)
