"""How the difficulty of the next trial is chosen: by the adaptive threshold or a staircase."""

from typing import Protocol

import numpy as np

from intonation.listening.estimate import EarEstimate
from intonation.listening.prior import UNKNOWN_LISTENER, Prior
from intonation.listening.questions import Question
from intonation.listening.setting import some_sign
from intonation.listening.staircase import Staircase, after_answer
from intonation.listening.threshold import (
    Belief,
    belief_after,
    belief_before,
    estimate,
    next_deviation_cents,
)
from intonation.listening.trials import Answer


class Steps(Protocol):
    """Chooses difficulties and learns from the answers."""

    def next_cents(self, rng: np.random.Generator) -> float:
        """Return the step to present next."""

    def told(self, answer: Answer) -> None:
        """Learn from an answer."""

    def estimate(self) -> EarEstimate:
        """Return what the answers so far tell."""


class AdaptiveSteps:
    """Presents what teaches most about the listener.

    Parameters
    ----------
    question
        What is asked.
    prior
        What is believed beforehand.
    """

    def __init__(self, question: Question, prior: Prior = UNKNOWN_LISTENER) -> None:
        self.belief: Belief = belief_before(question, prior)

    def next_cents(self, rng: np.random.Generator) -> float:
        """Return the step that teaches most."""
        return next_deviation_cents(self.belief, rng)

    def told(self, answer: Answer) -> None:
        """Sharpen the belief."""
        self.belief = learned(self.belief, answer)

    def estimate(self) -> EarEstimate:
        """Return what is believed now."""
        return estimate(self.belief)


class StaircaseSteps(AdaptiveSteps):
    """Presents what a staircase asks for; the answers are weighed just the same."""

    def __init__(self, question: Question, prior: Prior = UNKNOWN_LISTENER) -> None:
        super().__init__(question, prior)
        self.stairs = Staircase(step_cents=20.0)

    def next_cents(self, rng: np.random.Generator) -> float:
        """Return the staircase's step, on either side by chance."""
        signed = self.belief.question.signed
        return self.stairs.step_cents * (some_sign(rng) if signed else 1.0)

    def told(self, answer: Answer) -> None:
        """Move the staircase, and sharpen the belief."""
        super().told(answer)
        self.stairs = after_answer(self.stairs, right=answer.is_right)


def learned(belief: Belief, answer: Answer) -> Belief:
    """Return the belief after an answer to a trial."""
    first = answer.choice == "sharp" if belief.question.signed else answer.is_right
    return belief_after(belief, deviation_cents=answer.trial.step_cents, first=first)
