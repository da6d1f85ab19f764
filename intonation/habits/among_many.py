"""Which of many findings to speak of, so that few of those spoken of are chance."""

from collections.abc import Sequence
from statistics import NormalDist

CHANCE_AT_MOST = 0.1
"""At most one in ten of those spoken of may be chance, on average (design judgement)."""

_NORMAL = NormalDist()
_NINETY = _NORMAL.inv_cdf(0.95)


def beyond_chance(changes: Sequence[tuple[float, float]]) -> tuple[bool, ...]:
    """Return which changes stand out, of all that were looked at together.

    Of thirty notes that did not change, three lie outside of their 90 % intervals. So the least
    probable are taken first, and each has to be the less probable the fewer there are
    (Y. Benjamini and Y. Hochberg, J. R. Stat. Soc. B 57 (1995) 289, from memory).

    Parameters
    ----------
    changes
        Size of each change, and half its 90 % interval, larger than 0, in the same unit.
    """
    chances = [2.0 * _NORMAL.cdf(-abs(size) / half * _NINETY) for size, half in changes]
    steps = enumerate(sorted(chances), start=1)
    enough = [chance for rank, chance in steps if chance <= CHANCE_AT_MOST * rank / len(chances)]
    limit = max(enough, default=-1.0)
    return tuple(chance <= limit for chance in chances)
