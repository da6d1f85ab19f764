"""Difference tones: the low notes that two high ones make in the ear, and how they give away cents.

Two recorders sounding a pure fifth are heard with the octave below the lower one. When the upper
note is a little off, the difference tone is off by several times as much, and so is easier to hear.
"""

from dataclasses import dataclass
from fractions import Fraction

from intonation.pitch.cents import cents_between


@dataclass(frozen=True, slots=True)
class DifferenceTones:
    """The two difference tones of a pair of notes, in hertz.

    Parameters
    ----------
    simple_hz
        ``f2 − f1``: Tartini's *terzo suono*.
    cubic_hz
        ``2 f1 − f2``, the one that is heard at low levels; None where it is not above zero.
    """

    simple_hz: float
    cubic_hz: float | None


def difference_tones(lower_hz: float, upper_hz: float) -> DifferenceTones:
    """Return the difference tones of two frequencies in hertz.

    Notes
    -----
    G. Tartini, *Trattato di musica* (1754), pp. 13–14; H. von Helmholtz, *On the Sensations of
    Tone*, ch. 7 (both from memory).
    """
    cubic_hz = 2.0 * lower_hz - upper_hz
    return DifferenceTones(upper_hz - lower_hz, cubic_hz if cubic_hz > 0 else None)


def place_below(ratio: Fraction) -> Fraction:
    """Return the simple difference tone of a pure interval as a multiple of its lower note.

    A fifth, 3/2, gives 1/2: the octave below. The unison gives 0: no tone at all.
    """
    return ratio - 1


def magnification(ratio: Fraction) -> float:
    """Return by how many cents the difference tone moves per cent of the upper note.

    Parameters
    ----------
    ratio
        A pure interval above 1, for example 5/4, whose difference tone moves five times as far.

    Notes
    -----
    Derivative of ``log(f2 − f1)`` with respect to ``log(f2)``: ``f2 / (f2 − f1)``.
    """
    return float(ratio / (ratio - 1))


def difference_tone_error_cents(lower_hz: float, upper_hz: float, *, ratio: Fraction) -> float:
    """Return how far the simple difference tone lies from where the pure interval would put it.

    Parameters
    ----------
    lower_hz, upper_hz
        The sounding notes, in hertz; the upper one must be the higher.
    ratio
        The pure interval that was meant.
    """
    pure_hz = lower_hz * float(place_below(ratio))
    return cents_between(upper_hz - lower_hz, target_hz=pure_hz)
