"""How good a deviation is: four bands, and the window that breath can cover."""

from typing import Literal

Band = Literal["excellent", "good", "noticeable", "out of tune"]

EXCELLENT_CENTS = 5.0
GOOD_CENTS = 10.0
NOTICEABLE_CENTS = 20.0
"""Bounds of the bands. Design judgement: listeners discriminate 3 to 6 cents on single tones (C. C.
Wier, W. Jesteadt & D. M. Green, JASA 61 (1977) 178; from memory), and melodies are heard as out of
tune from about 25 cents (P. Larrouy-Maestri, 2018, abstract)."""

IN_TUNE_WINDOW_CENTS = 20.0
"""An instrument is in tune when all its notes lie within a window this wide, which breath can
cover (common practice, no source)."""


def band(cents: float) -> Band:
    """Return the band of a deviation in cents, whichever its sign."""
    distance_cents = abs(cents)
    if distance_cents <= EXCELLENT_CENTS:
        return "excellent"
    if distance_cents <= GOOD_CENTS:
        return "good"
    return "noticeable" if distance_cents <= NOTICEABLE_CENTS else "out of tune"
