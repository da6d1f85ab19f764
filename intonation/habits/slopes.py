"""What a note's pitch usually is, and how it goes with something else, sitting by sitting."""

import numpy as np

from intonation.habits.played import Array
from intonation.habits.scatter import Readings

_LEAST_INFORMATION = 1e-9


def means_by_note(readings: Readings) -> tuple[Array, Array]:
    """Return each note's mean and its variance; NaN for a note without readings."""
    weight = 1.0 / readings.group_variance
    total = np.bincount(readings.group_note, weights=weight, minlength=readings.notes)
    sums = np.bincount(
        readings.group_note, weights=weight * readings.group_mean, minlength=readings.notes
    )
    unknown = np.full(readings.notes, np.nan)
    known = total > 0.0
    mean = np.divide(sums, total, out=unknown.copy(), where=known)
    variance = np.divide(1.0, total, out=unknown, where=known)
    return mean, variance


def slopes_by_note(readings: Readings, cause: Array) -> tuple[Array, Array]:
    """Return how much each note rises for one unit of a cause, and the variance of that.

    Parameters
    ----------
    readings
        Pitch or drift.
    cause
        For each reading: 1 or 0 for something that was so or not, or any number.

    Returns
    -------
    slope, variance
        For each note; NaN where the cause did not vary.

    Notes
    -----
    Least squares for readings that have a sitting in common, by taking from each reading the part
    of its group's mean that the sitting accounts for (W. A. Fuller & G. E. Battese, JASA 68 (1973)
    626; from memory). A cause that varies within sittings is compared there; one that varies only
    between sittings counts for as much as so many sittings can tell.
    """
    within = readings.within[readings.group_note]
    kept = np.sqrt(within / (within + readings.group_count * readings.between))
    share = (1.0 - kept)[readings.group]
    cause_mean = np.bincount(readings.group, weights=cause) / readings.group_count
    x = cause - share * cause_mean[readings.group]
    y = readings.value - share * readings.group_mean[readings.group]
    one = 1.0 - share

    def total(weights: Array) -> Array:
        sums = np.bincount(readings.note, weights=weights, minlength=readings.notes)
        return sums.astype(np.float64)

    ones, ones_x, ones_y = total(one * one), total(one * x), total(one * y)
    some = ones > 0.0
    level = np.divide(ones_x, ones, out=np.zeros(readings.notes), where=some)
    information = total(x * x) - level * ones_x
    product = total(x * y) - level * ones_y
    unknown = np.full(readings.notes, np.nan)
    tells = information > _LEAST_INFORMATION
    slope = np.divide(product, information, out=unknown.copy(), where=tells)
    variance = np.divide(readings.within, information, out=unknown, where=tells)
    return slope, variance
