"""Even draws of a two-dimensional normal distribution, the same every time."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

_PLASTIC = 1.32471795724474602596
"""The real root of x**3 = x + 1; its powers fill the square evenly (Roberts 2018, from memory)."""


@cache
def even_pairs(count: int) -> NDArray[np.float64]:
    """Return (2, count) standard normal draws: an even filling of the square, bent to the normal.

    The square is bent by the transform of Box & Muller 1958, Ann. Math. Stat. 29:610.
    """
    steps = np.arange(1, count + 1)[:, None] * np.array([1.0 / _PLASTIC, 1.0 / _PLASTIC**2])
    first, second = ((0.5 + steps) % 1.0).T
    radius = np.sqrt(-2.0 * np.log(np.maximum(first, 1e-12)))
    angle = 2.0 * np.pi * second
    return np.stack([radius * np.cos(angle), radius * np.sin(angle)])
