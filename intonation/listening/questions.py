"""What a listener can be asked, and how likely each answer is for every listener considered.

A listener has a *bias* (the deviation that sounds in tune to them), a *blur* (the standard
deviation of what they hear, in cents) and a share of *lapses*, answers given without listening.
"""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from intonation.listening.normal import Z_75, normal_share

LARGEST_STEP_CENTS = 50.0
"""A quarter-tone: further off, a note begins to be another note rather than one out of tune."""

LAPSES = np.array((0.02, 0.05, 0.1))
"""Shares of lapses that are considered, all equally likely (design judgement)."""

FINEST_CENTS, COARSEST_CENTS = 0.65, 65.0
"""The thresholds that are considered: from finer than any that is published for pitch to one that
can hardly be told from guessing, the largest step being a quarter-tone."""

LOG_BLUR = np.linspace(math.log(FINEST_CENTS / Z_75), math.log(COARSEST_CENTS / Z_75), 29)
"""Natural logarithms of the blurs that are considered, shape (S,)."""

_BIAS_CENTS = np.linspace(-24.0, 24.0, 61)
_STEPS_CENTS = np.concatenate(
    (np.arange(0.5, 8.5, 0.5), np.arange(9.0, 21.0), np.arange(22.5, LARGEST_STEP_CENTS + 1.0, 2.5))
)


@dataclass(frozen=True, slots=True, eq=False)
class Question:
    """A question with two outcomes, and the listeners it is asked of.

    Parameters
    ----------
    signed
        Whether the outcome is "sharp" rather than "flat"; otherwise it is "right" rather than
        "wrong", and the listeners have no bias.
    chance
        Share of the first outcome in answers given without listening.
    steps_cents
        Deviations that may be presented, shape (D,).
    bias_cents, log_blur
        Axes of the grid of listeners, shapes (B,) and (S,); the blur as its natural logarithm.
    listeners
        Bias and log blur of every listener of the grid, shape (2, B · S).
    shares
        How often each listener, when listening, gives the first outcome at each step,
        float32, shape (D, B · S).
    """

    signed: bool
    chance: float
    steps_cents: NDArray[np.float64]
    bias_cents: NDArray[np.float64]
    log_blur: NDArray[np.float64]
    listeners: NDArray[np.float64]
    shares: NDArray[np.float32]

    def shares_at(self, deviation_cents: float) -> NDArray[np.float64]:
        """Return how often each listener gives the first outcome at any deviation, (B · S,)."""
        return _shares(deviation_cents, self.listeners, None if self.signed else self.chance)


@cache
def sharp_or_flat() -> Question:
    """Return the question whether a tone is sharp or flat of where it should be."""
    return _question(np.concatenate((-_STEPS_CENTS[::-1], _STEPS_CENTS)), _BIAS_CENTS, None)


@cache
def right_or_wrong(choices: int) -> Question:
    """Return a question with one right answer among so many choices.

    Notes
    -----
    A listener who listens is right in ``c + (1 − c) (2 Φ(d/σ) − 1)`` of the cases, ``c`` being one
    in so many. With two choices that is Φ(d/σ): two-alternative forced choice (D. M. Green and
    J. A. Swets, *Signal Detection Theory and Psychophysics*, 1966; from memory).
    """
    return _question(_STEPS_CENTS, np.zeros(1), 1.0 / choices)


def _question(
    steps_cents: NDArray[np.float64], bias_cents: NDArray[np.float64], chance: float | None
) -> Question:
    axes = np.meshgrid(bias_cents, LOG_BLUR, indexing="ij")
    listeners = np.stack([axis.ravel() for axis in axes])
    return Question(
        signed=chance is None,
        chance=0.5 if chance is None else chance,
        steps_cents=steps_cents,
        bias_cents=bias_cents,
        log_blur=LOG_BLUR,
        listeners=listeners,
        shares=_shares(steps_cents[:, None], listeners, chance).astype(np.float32),
    )


def _shares(
    deviation_cents: ArrayLike, listeners: NDArray[np.float64], chance: float | None
) -> NDArray[np.float64]:
    bias_cents, log_blur = listeners
    below = normal_share((np.asarray(deviation_cents) - bias_cents) / np.exp(log_blur))
    return below if chance is None else chance + (1.0 - chance) * (2.0 * below - 1.0)
