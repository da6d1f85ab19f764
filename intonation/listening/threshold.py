"""The adaptive threshold: every answer sharpens a belief, which chooses the next step to present.

The belief is a table of probabilities over bias, blur and lapses. The next step is the one that is
expected to leave the least variance of the log blur, and of the bias in units of the blur, with
lapses averaged out: the psi method (L. L. Kontsevich and C. W. Tyler, Vision Res. 39, 1999, 2729)
in its marginal form (N. Prins, J. Vision 13(7):3, 2013), with variance in place of entropy, which
costs a tenth of the time and measures as well. See also A. B. Watson, J. Vision 17(3):10, 2017.
"""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from intonation.listening.estimate import EarEstimate, Likely, Standing
from intonation.listening.normal import Z_75
from intonation.listening.prior import UNKNOWN_LISTENER, Prior
from intonation.listening.questions import LAPSES, LARGEST_STEP_CENTS, Question

FEWEST_ANSWERS = 8
"""Fewer answers are not worth a number."""

_GUESSING_BEFOREHAND = 0.05
_BIAS_FIRST_ANSWERS = 6
_BIAS_WEIGHT_FIRST, _BIAS_WEIGHT_LATER = 6.0, 1.5
"""The bias is looked for first: until it is known, no step tells much about the blur. Both weights
were chosen by simulation."""

_AS_GOOD = 0.99


@dataclass(frozen=True, slots=True, eq=False)
class Belief:
    """What is known of a listener after some answers.

    Parameters
    ----------
    question
        What is asked.
    weights
        Probability of every listener of the grid and share of lapses, shape (B · S, L).
    log_evidence
        Natural logarithm of the probability of all answers, if the listener listens.
    first, second
        How often each outcome came.
    """

    question: Question
    weights: NDArray[np.float64]
    log_evidence: float = 0.0
    first: int = 0
    second: int = 0

    @property
    def answers(self) -> int:
        """How many answers were given."""
        return self.first + self.second


def belief_before(question: Question, prior: Prior = UNKNOWN_LISTENER) -> Belief:
    """Return what is believed before the first answer."""
    bias, log_blur = question.listeners
    from_blur = (log_blur - prior.log_blur) / prior.log_blur_sd
    from_bias = (bias - prior.bias_cents) / prior.bias_sd_cents if question.signed else 0.0
    weights = np.exp(-0.5 * (from_blur**2 + from_bias**2))
    shared = weights / weights.sum() / LAPSES.size
    return Belief(question, np.repeat(shared[:, None], LAPSES.size, axis=1))


def belief_after(belief: Belief, *, deviation_cents: float, first: bool) -> Belief:
    """Return the belief after one more answer.

    Parameters
    ----------
    belief
        The belief before it.
    deviation_cents
        What was presented.
    first
        Whether the outcome was the question's first: "sharp", or "right".
    """
    question = belief.question
    listening = question.shares_at(deviation_cents)[:, None]
    share = LAPSES * question.chance + (1.0 - LAPSES) * listening
    weights = belief.weights * (share if first else 1.0 - share)
    probability = float(weights.sum())
    return replace(
        belief,
        weights=weights / probability,
        log_evidence=belief.log_evidence + math.log(probability),
        first=belief.first + first,
        second=belief.second + (not first),
    )


def next_deviation_cents(belief: Belief, rng: np.random.Generator) -> float:
    """Return the deviation from which the next answer is expected to teach most.

    Steps that are as good as the best, within one per cent, are drawn from by chance, so that the
    listener cannot foresee them.
    """
    gain = _expected_gain(belief)
    least = belief.question.steps_cents[gain >= _AS_GOOD * gain.max()]
    return float(rng.choice(least))


def _expected_gain(belief: Belief) -> NDArray[np.float64]:
    """Return the variance that an answer at each step is expected to remove, shape (D,)."""
    question = belief.question
    each = belief.weights.sum(axis=1)
    bias, log_blur = question.listeners
    centred = np.stack((np.ones_like(each), log_blur - each @ log_blur, bias - each @ bias), axis=1)
    attentive = (belief.weights @ (1.0 - LAPSES))[:, None] * centred
    first = (question.shares @ attentive.astype(np.float32)).astype(np.float64)
    first += question.chance * ((belief.weights @ LAPSES) @ centred)
    second = each @ centred - first
    removed = first[:, 1:] ** 2 / first[:, :1] + second[:, 1:] ** 2 / second[:, :1]
    scale = math.exp(-2.0 * float(each @ log_blur))
    gain: NDArray[np.float64] = removed @ (1.0, _bias_weight(belief) * scale)
    return gain


def _bias_weight(belief: Belief) -> float:
    if not belief.question.signed:
        return 0.0
    return _BIAS_WEIGHT_FIRST if belief.answers < _BIAS_FIRST_ANSWERS else _BIAS_WEIGHT_LATER


def estimate(belief: Belief) -> EarEstimate:
    """Return what the answers tell so far."""
    question = belief.question
    table = belief.weights.sum(axis=1).reshape(question.bias_cents.size, question.log_blur.size)
    of_blur, of_bias = table.sum(axis=0), table.sum(axis=1)
    log_blur = _likely(question.log_blur, of_blur)
    blur = Likely(*(math.exp(value) for value in (log_blur.value, log_blur.low, log_blur.high)))
    guessing = guessing_probability(belief)
    return EarEstimate(
        answers=belief.answers,
        standing=_standing(belief, blur, guessing),
        blur_cents=blur,
        bias_cents=_likely(question.bias_cents, of_bias) if question.signed else None,
        log_blur=log_blur.value,
        log_blur_sd=math.sqrt(float(of_blur @ (question.log_blur - log_blur.value) ** 2)),
        guessing=guessing,
    )


def guessing_probability(belief: Belief) -> float:
    """Return the probability that the listener answers without listening at all.

    Notes
    -----
    Guesses of "sharp" may come with any preference from 0 to 1, all equally likely beforehand; a
    guess in a question with one right answer is right by chance, since the order is random.
    """
    first, second, chance = belief.first, belief.second, belief.question.chance
    if belief.question.signed:
        log_guesses = math.lgamma(first + 1) + math.lgamma(second + 1)
        log_guesses -= math.lgamma(first + second + 2)
    else:
        log_guesses = first * math.log(chance) + second * math.log1p(-chance)
    log_odds = math.log(_GUESSING_BEFOREHAND / (1.0 - _GUESSING_BEFOREHAND))
    log_odds += log_guesses - belief.log_evidence
    return 1.0 / (1.0 + math.exp(-max(-700.0, min(700.0, log_odds))))


def _standing(belief: Belief, blur: Likely, guessing: float) -> Standing:
    if belief.answers < FEWEST_ANSWERS:
        return "too few answers"
    if guessing > 0.5 or blur.value * Z_75 > LARGEST_STEP_CENTS:
        return "could not be measured"
    return "measured"


def _likely(points: NDArray[np.float64], shares: NDArray[np.float64]) -> Likely:
    """Return mean and 90 % interval of a distribution on evenly spaced points."""
    step = points[1] - points[0]
    edges = np.append(points - step / 2.0, points[-1] + step / 2.0)
    below = np.append(0.0, np.cumsum(shares))
    low, high = np.interp((0.05, 0.95), below, edges)
    return Likely(float(points @ shares), float(low), float(high))
