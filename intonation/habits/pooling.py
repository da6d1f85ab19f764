"""Many notes looked at together: each is drawn towards the others as far as it is uncertain.

So the note that looks worst among thirty is not believed merely because one of thirty always looks
worst (B. Efron & C. Morris, JASA 70 (1975) 311; A. Gelman, J. Hill & M. Yajima, J. Res. Educ. Eff.
5 (2012) 189; both from memory).
"""

from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.parts import Interval, interval
from intonation.habits.played import Array

_FEWEST_NOTES = 4
_ROUNDS = 60


@dataclass(frozen=True, slots=True, eq=False)
class Pooled:
    """Estimates after pooling.

    Parameters
    ----------
    mean, sd
        Of each note; NaN where nothing was measured.
    centre
        What the notes have in common; None if none was measured.
    """

    mean: Array
    sd: Array
    centre: Interval | None

    def of(self, note: int) -> Interval | None:
        """Return a note's estimate with its 90 % interval, or None."""
        if np.isnan(self.mean[note]):
            return None
        return interval(float(self.mean[note]), float(self.sd[note]))


def pooled(mean: Array, variance: Array, *, shared: float = 0.0) -> Pooled:
    """Return estimates of one kind, drawn together.

    Parameters
    ----------
    mean, variance
        Of each note; NaN where nothing was measured.
    shared
        Share of the variance that all notes have in common, 0 to 1; it moves them together and
        says nothing about how they differ.

    Notes
    -----
    An empirical Bayes estimate with normal distributions. The variance among notes is that of R. C.
    Paule & J. Mandel (J. Res. NBS 87 (1982) 377); the uncertainty of having estimated it is added
    as C. N. Morris does (JASA 78 (1983) 47; both from memory). Fewer than four notes are left as
    they are.
    """
    known = ~np.isnan(mean)
    count = int(known.sum())
    if not count:
        return Pooled(mean, np.full(len(mean), np.nan), None)
    y, v = mean[known], variance[known]
    own, common = (1.0 - shared) * v, shared * float(v.mean())
    among = variance_among(y, own) if count >= _FEWEST_NOTES else float(y.var())
    weight = 1.0 / (own + among)
    centre = float((weight * y).sum() / weight.sum())
    centre_variance = 1.0 / float(weight.sum())
    result_mean, result_sd = mean.copy(), np.full(len(mean), np.nan)
    if count < _FEWEST_NOTES:
        result_sd[known] = np.sqrt(v)
    else:
        drawn = own * weight
        result_mean[known] = drawn * centre + (1.0 - drawn) * y
        unsure = 2.0 / max(1, count - 3) * drawn**2 * (y - centre) ** 2
        unsure *= (own.mean() + among) * weight
        result_sd[known] = np.sqrt(
            (1.0 - drawn) * own + drawn**2 * centre_variance + unsure + common
        )
    return Pooled(result_mean, result_sd, interval(centre, (centre_variance + common) ** 0.5))


def variance_among(mean: Array, variance: Array) -> float:
    """Return the variance of the true values behind estimates of known variance, at least 0.

    It is the one with which the estimates scatter about their weighted mean just as they should.
    """
    low, high = 0.0, float(np.var(mean)) * len(mean) + float(variance.max())
    if _excess(mean, variance, low) <= 0.0:
        return 0.0
    for _ in range(_ROUNDS):
        middle = 0.5 * (low + high)
        if _excess(mean, variance, middle) > 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _excess(mean: Array, variance: Array, among: float) -> float:
    weight = 1.0 / (variance + among)
    centre = (weight * mean).sum() / weight.sum()
    return float((weight * (mean - centre) ** 2).sum()) - (len(mean) - 1)
