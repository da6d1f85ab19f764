"""Difference tones: the low notes that two high ones make in the ear, and how they give away cents.

Two recorders sounding a pure fifth are heard with the octave below the lower one. When the upper
note is a little off, the difference tone is off by several times as much, and so is easier to hear.
"""

from fractions import Fraction

from intonation.pitch.cents import cents_between


def place_below(ratio: Fraction) -> Fraction:
    """Return the simple difference tone of a pure interval as a multiple of its lower note.

    A fifth, 3/2, gives 1/2: the octave below. The unison gives 0: no tone at all.

    Notes
    -----
    The tone of ``f2 − f1`` is Tartini's *terzo suono*: G. Tartini, *Trattato di musica* (1754),
    pp. 13–14; H. von Helmholtz, *On the Sensations of Tone*, ch. 7 (both from memory).
    """
    return ratio - 1


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
