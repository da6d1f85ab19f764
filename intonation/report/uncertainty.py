"""How surely a mean is known from the notes that it is the mean of."""

from math import sqrt

from intonation.assessment.summary import NoteSummary
from intonation.diagnosis.parts import Interval
from intonation.listening.adjustment import t_95


def mean_interval(note: NoteSummary) -> Interval | None:
    """Return the 90 % interval of a note's mean; None for a note that was held once.

    Student's t for independent, normal deviations (Student, *The probable error of a mean*,
    Biometrika 6 (1908) 1; from memory). Notes of one sitting share its temperature and the
    player's form, so that another day may lie outside.
    """
    if note.count < 2:
        return None
    half = t_95(note.count - 1) * note.spread_cents / sqrt(note.count)
    return Interval(note.mean_cents, note.mean_cents - half, note.mean_cents + half)
