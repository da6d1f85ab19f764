"""Several versions one after the other, of which one is in tune."""

from collections.abc import Callable, Sequence

import numpy as np

from intonation.listening.setting import some_sign
from intonation.listening.trials import HeardTone

VERSION_S = 1.6
PAUSE_S = 0.5

MakeVersion = Callable[[float, float], Sequence[HeardTone]]
"""Returns the tones of a version that begins at a time and is off by some cents."""


def version_starts_s(count: int, *, version_s: float = VERSION_S) -> tuple[float, ...]:
    """Return when each version begins."""
    return tuple(number * (version_s + PAUSE_S) for number in range(count))


def versions_cents(
    count: int, deviation_cents: float, rng: np.random.Generator
) -> tuple[int, tuple[float, ...]]:
    """Return which version is in tune, and how far each one is off.

    With three versions the one in tune is as often the highest and the lowest as it is in the
    middle: otherwise the order of the pitches would give it away.
    """
    size = abs(deviation_cents)
    right = int(rng.integers(count))
    if count == 2:
        others = [some_sign(rng) * size]
    else:
        sides = ((-1.0, -1.0), (-1.0, 1.0), (1.0, 1.0))[int(rng.integers(3))]
        others = [side * size for side in rng.permutation(sides)]
    return right, (*others[:right], 0.0, *others[right:])


def joined(
    make: MakeVersion, starts_s: Sequence[float], cents: Sequence[float]
) -> tuple[HeardTone, ...]:
    """Return the tones of all versions."""
    return tuple(
        tone for start, off in zip(starts_s, cents, strict=True) for tone in make(start, off)
    )


def choices_of(count: int) -> tuple[str, ...]:
    """Return the answers: the versions by number, from 1."""
    return tuple(str(number) for number in range(1, count + 1))
