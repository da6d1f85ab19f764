"""The adaptive threshold: every answer sharpens a belief about the listener.

The belief is a table of probabilities over bias, blur and lapses. It chooses the next step to
present, see `intonation.listening.choosing`, and at any time tells threshold and bias.
"""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from intonation.listening.choosing import next_step_cents
from intonation.listening.estimate import EarEstimate, Likely, Standing
from intonation.listening.prior import UNKNOWN_LISTENER, Prior
from intonation.listening.questions import LAPSES, Question

FEWEST_ANSWERS = 8
"""Fewer answers are not worth a number."""

_GUESSING_BEFOREHAND = 0.12
_TOO_LIKELY_GUESSING, _SUSPECTED_GUESSING = 0.15, 0.3
"""How probable guessing may be if a result is to be relied on, and when it is asked about."""

_TOO_EARLY_TO_SUSPECT = 6
_SMALLEST_PRIOR = 1e-12
_TAILS = np.linspace(0.0, 0.1, 41)


@dataclass(frozen=True, slots=True, eq=False)
class Belief:
    """What is known of a listener after some answers.

    Parameters
    ----------
    question
        What is asked.
    prior
        What was believed beforehand.
    weights
        Probability of every listener of the grid and share of lapses, shape (B · S, L).
    log_evidence
        Natural logarithm of the probability of all answers, if the listener listens.
    log_chance
        The same, if every answer were drawn by chance.
    first, second
        How often each outcome came.
    """

    question: Question
    prior: Prior
    weights: NDArray[np.float64]
    log_evidence: float = 0.0
    log_chance: float = 0.0
    first: int = 0
    second: int = 0

    @property
    def answers(self) -> int:
        """How many answers were given."""
        return self.first + self.second


def belief_before(question: Question, prior: Prior = UNKNOWN_LISTENER) -> Belief:
    """Return what is believed before the first answer."""
    each = prior.weights(question.bias_cents).ravel()
    shared = each / each.sum() / LAPSES.size
    return Belief(question, prior, np.repeat(shared[:, None], LAPSES.size, axis=1))


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
        log_chance=belief.log_chance
        + math.log(question.chance if first else 1.0 - question.chance),
        first=belief.first + first,
        second=belief.second + (not first),
    )


def next_deviation_cents(belief: Belief, rng: np.random.Generator) -> float:
    """Return the deviation to present next; chance decides between equals.

    As long as the answers look like guesses it is the largest step, on either side: even a coarse
    ear is then mostly right, and a guesser is not.
    """
    early = belief.answers < _TOO_EARLY_TO_SUSPECT
    if not early and guessing_probability(belief) > _SUSPECTED_GUESSING:
        steps_cents = belief.question.steps_cents
        largest = np.flatnonzero(np.abs(steps_cents) == np.abs(steps_cents).max())
        return float(steps_cents[rng.choice(largest)])
    return next_step_cents(belief.question, belief.weights, rng)


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
        standing=_standing(belief, guessing),
        blur_cents=blur,
        bias_cents=_likely(question.bias_cents, of_bias) if question.signed else None,
        log_blur=log_blur.value,
        log_blur_sd=math.sqrt(float(of_blur @ (question.log_blur - log_blur.value) ** 2)),
        guessing=guessing,
        evidence=_evidence(of_blur, belief.prior),
    )


def guessing_probability(belief: Belief) -> float:
    """Return the probability that the listener answers without listening at all.

    Notes
    -----
    Guesses of "sharp" may come with any preference from 0 to 1, all equally likely beforehand; a
    guess in a question with one right answer is right by chance, since the order is random.
    """
    log_guesses = belief.log_chance
    if belief.question.signed:
        log_guesses = math.lgamma(belief.first + 1) + math.lgamma(belief.second + 1)
        log_guesses -= math.lgamma(belief.answers + 2)
    log_odds = math.log(_GUESSING_BEFOREHAND / (1.0 - _GUESSING_BEFOREHAND))
    log_odds += log_guesses - belief.log_evidence
    return 1.0 / (1.0 + math.exp(-max(-700.0, min(700.0, log_odds))))


def _standing(belief: Belief, guessing: float) -> Standing:
    if belief.answers < FEWEST_ANSWERS:
        return "too few answers"
    if guessing > _TOO_LIKELY_GUESSING:
        return "could not be measured"
    return "measured"


def _evidence(of_blur: NDArray[np.float64], prior: Prior) -> NDArray[np.float64]:
    """Return how well every blur explains the answers: what is believed without the prior."""
    evidence = of_blur / np.maximum(prior.blurs, _SMALLEST_PRIOR)
    scaled: NDArray[np.float64] = evidence / evidence.max()
    return scaled


def _likely(points: NDArray[np.float64], shares: NDArray[np.float64]) -> Likely:
    """Return mean and 90 % interval of a distribution on evenly spaced points.

    The interval is the shortest: at the edge of what is possible, one with equal tails would miss
    on one side only, and too seldom.
    """
    step = points[1] - points[0]
    edges = np.append(points - step / 2.0, points[-1] + step / 2.0)
    below = np.append(0.0, np.cumsum(shares))
    lows = np.interp(_TAILS, below, edges)
    highs = np.interp(_TAILS + 0.9, below, edges)
    shortest = int(np.argmin(highs - lows))
    return Likely(float(points @ shares), float(lows[shortest]), float(highs[shortest]))
