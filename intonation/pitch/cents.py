"""Cents and hertz: the distance between two frequencies, and a frequency moved by a distance."""

import math

CENTS_PER_OCTAVE = 1200.0


def cents_between(sounding_hz: float, *, target_hz: float) -> float:
    """Return how far a sounding frequency lies from its target.

    Parameters
    ----------
    sounding_hz, target_hz
        Frequencies in hertz, both above zero.

    Returns
    -------
    float
        Cents; positive when the sounding frequency is sharp of the target.
    """
    return CENTS_PER_OCTAVE * math.log2(sounding_hz / target_hz)


def shifted_hz(frequency_hz: float, *, cents: float) -> float:
    """Return a frequency in hertz moved up (positive) or down (negative) by cents."""
    return frequency_hz * math.exp2(cents / CENTS_PER_OCTAVE)


def beats_per_second(sounding_hz: float, *, against_hz: float, ratio: tuple[int, int]) -> float:
    """Return the beat rate of a mistuned ``n:m`` consonance, ``|m f1 - n f2|``.

    Parameters
    ----------
    sounding_hz
        Frequency of the note that should stand ``n/m`` above the other.
    against_hz
        Frequency of the other note.
    ratio
        ``(n, m)``, for example ``(3, 2)`` for a fifth.

    Notes
    -----
    The beat is between partial ``m`` of the upper and partial ``n`` of the lower note
    (H. von Helmholtz, *On the Sensations of Tone*, ch. 10; from memory).
    """
    upper, lower = ratio
    return abs(lower * sounding_hz - upper * against_hz)
