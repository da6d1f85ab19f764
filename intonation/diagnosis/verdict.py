"""Who owns a note's deviation: probabilities of the four answers, and the answer that is given."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from intonation.diagnosis.chance import even_pairs
from intonation.diagnosis.readings import Array

Answer = Literal["in tune", "instrument", "player", "both"]
Verdict = Literal[
    "in tune",
    "instrument",
    "player",
    "both",
    "at least partly the instrument",
    "at least partly the player",
    "not enough evidence",
]

ANSWERS: tuple[Answer, ...] = ("in tune", "instrument", "player", "both")
TOLERANCE_CENTS = 8.0
"""Within this of its place among the other notes a note is in tune (a setting; our judgement)."""
IN_TUNE_SURE = 0.53
BLAME_SURE = 0.73
PARTLY_SURE = 0.7
OPPOSITE_AT_MOST: dict[Answer, float] = {"instrument": 0.12, "player": 0.06}
"""Nobody is blamed alone while the other alone is more probable than this: that error costs most. A
swell that was badly placed more often makes a player look guilty than an instrument (thresholds set
on simulated pairs)."""
_DRAWS = 768


@dataclass(frozen=True, slots=True, kw_only=True)
class Probabilities:
    """Probability of each answer; a model estimate until priors come from real recordings."""

    in_tune: float
    instrument: float
    player: float
    both: float

    def of(self, answer: Answer) -> float:
        """Return the probability of an answer."""
        return float(getattr(self, answer.replace(" ", "_")))


def classified(instrument_cents: Array, player_cents: Array, *, tolerance_cents: float) -> Array:
    """Return the index into ``ANSWERS`` for true parts.

    A note is off if its parts together exceed the tolerance. Seen in the direction in which it is
    off, it is the fault of whoever alone exceeds the tolerance, and of both otherwise.
    """
    total = instrument_cents + player_cents
    side = np.where(total >= 0.0, 1.0, -1.0)
    by_instrument = side * instrument_cents > tolerance_cents
    by_player = side * player_cents > tolerance_cents
    blame = np.where(by_instrument & ~by_player, 1, np.where(by_player & ~by_instrument, 2, 3))
    return np.where(np.abs(total) <= tolerance_cents, 0, blame)


def probabilities(
    pairs: Sequence[tuple[float, Array, Array]], *, tolerance_cents: float = TOLERANCE_CENTS
) -> Probabilities:
    """Return the probability of each answer.

    Parameters
    ----------
    pairs
        Weight, mean (2,) and covariance (2, 2) of instrument and player, per mixture component.
    tolerance_cents
        See ``classified``.
    """
    weight = np.array([weight for weight, _, _ in pairs])
    mean = np.array([mean for _, mean, _ in pairs])
    roots = root_of(np.array([covariance for _, _, covariance in pairs]))
    drawn = mean[:, :, None] + roots @ even_pairs(_DRAWS)
    answers = classified(drawn[:, 0], drawn[:, 1], tolerance_cents=tolerance_cents)
    each = np.repeat(weight / _DRAWS, _DRAWS)
    shares = np.bincount(answers.ravel(), weights=each, minlength=len(ANSWERS))
    in_tune, instrument, player, both = shares.tolist()
    return Probabilities(in_tune=in_tune, instrument=instrument, player=player, both=both)


def root_of(covariance: Array) -> Array:
    """Return the lower triangular roots of 2 by 2 covariances (..., 2, 2), also of flat ones."""
    root = np.zeros_like(covariance)
    first = np.sqrt(np.maximum(covariance[..., 0, 0], 0.0))
    across = covariance[..., 1, 0] / np.where(first > 0.0, first, np.inf)
    root[..., 0, 0], root[..., 1, 0] = first, across
    root[..., 1, 1] = np.sqrt(np.maximum(covariance[..., 1, 1] - across**2, 0.0))
    return root


def verdict_of(chances: Probabilities) -> Verdict:
    """Return the answer that the probabilities allow."""
    best = max(ANSWERS, key=chances.of)
    sure = IN_TUNE_SURE if best == "in tune" else BLAME_SURE
    opposite = {"instrument": chances.player, "player": chances.instrument}.get(best, 0.0)
    if chances.of(best) >= sure and opposite <= OPPOSITE_AT_MOST.get(best, 1.0):
        return best
    if chances.instrument + chances.both >= PARTLY_SURE and chances.instrument >= chances.player:
        return "at least partly the instrument"
    if chances.player + chances.both >= PARTLY_SURE:
        return "at least partly the player"
    return "not enough evidence"
