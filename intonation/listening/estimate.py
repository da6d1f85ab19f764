"""How fine an ear is: the threshold, the bias, and how sure of them one can be."""

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from intonation.listening.normal import Z_75

Standing = Literal["too few answers", "could not be measured", "measured"]


@dataclass(frozen=True, slots=True)
class Likely:
    """A value with its 90 % interval.

    Parameters
    ----------
    value, low, high
        Best estimate, and the bounds between which the truth lies with probability 0.9.
    """

    value: float
    low: float
    high: float

    def times(self, factor: float) -> "Likely":
        """Return the same in another unit, larger or smaller by a factor above zero."""
        return Likely(self.value * factor, self.low * factor, self.high * factor)


@dataclass(frozen=True, slots=True, kw_only=True)
class EarEstimate:
    """What a listener's answers to one kind of question tell.

    Parameters
    ----------
    answers
        How many were given.
    standing
        Whether the rest can be relied on. It could not be measured when the answers look like
        guesses, or when the threshold is so high that it could be one of a guesser.
    blur_cents
        Standard deviation of what is heard: the deviation at which d′ is 1.
    bias_cents
        Deviation that sounds in tune; None where the question cannot tell.
    log_blur, log_blur_sd
        Mean and standard deviation of the blur's natural logarithm, for what builds on it.
    guessing
        Probability that the answers are guesses.
    evidence
        How well each blur of `intonation.listening.questions.LOG_BLUR` explains the answers, the
        best one being 1, whatever was believed beforehand; shape (S,).
    """

    answers: int
    standing: Standing
    blur_cents: Likely
    bias_cents: Likely | None
    log_blur: float
    log_blur_sd: float
    guessing: float
    evidence: NDArray[np.float64] = field(compare=False, repr=False)

    @property
    def threshold_cents(self) -> Likely:
        """The 75 % threshold: so far from the bias, three of four attentive answers are right.

        With more than two choices: half way from chance to always right.
        """
        return self.blur_cents.times(Z_75)

    @property
    def dprime_one_cents(self) -> Likely:
        """The deviation at which d′ is 1 (84 % "sharp"), for comparison with the literature."""
        return self.blur_cents
