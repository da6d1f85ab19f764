"""Notes of which most days contradict each other, found in a store too large for the full fit."""

import numpy as np

from intonation.diagnosis import magnitudes
from intonation.diagnosis.bending import Bending
from intonation.diagnosis.evidence import Evidence, median_of_each
from intonation.diagnosis.magnitudes import FREE
from intonation.diagnosis.readings import Array, Numbers, Readings

PlayedNote = tuple[int, int, int]
"""A player, an instrument and a note, by index."""

_SURPRISE = 2.4
DOUBT = 50.0
"""Days whose variance, in cents squared, is larger than expected by this contradict each other."""


def disagreements(
    evidence: Evidence, bending: Bending, *, log_size: Array
) -> dict[PlayedNote, float]:
    """Return by how much the days of a note vary more than they should, where half lie apart.

    Only tones as always are compared, each sitting about its own middle.

    Parameters
    ----------
    evidence, bending
        What was measured, and how the notes bend.
    log_size
        Log sizes of the free effects: what days, breath and measurement are expected to differ by.

    Returns
    -------
    dict
        Variance in cents squared beyond what is expected, for each note that is in doubt.
    """
    seen = evidence.readings
    usual = seen.where(np.flatnonzero(~seen.middle & ~seen.matched & ~seen.exact & ~seen.loose))
    if not len(usual):
        return {}
    played, note = np.unique(_places(usual, evidence), return_inverse=True)
    day_of, day = np.unique(note * (1 + int(usual.day.max())) + usual.day, return_inverse=True)
    owner = (day_of // (1 + int(usual.day.max()))).astype(np.intp)
    mean, count = _day_means(usual, note.astype(np.intp), day.astype(np.intp), evidence)
    first = np.unique(note, return_index=True)[1]
    slope = bending.cents_per_db[usual.instrument[first], usual.note[first]]
    more = _beyond_expected(mean, _expected(count, slope[owner], log_size), owner)
    at = np.flatnonzero(more > DOUBT)
    return dict(zip(_unpacked(played[at], evidence), more[at].tolist(), strict=True))


def _places(readings: Readings, evidence: Evidence) -> Numbers:
    """Return one number for each player, instrument and note."""
    instruments, notes = len(evidence.axes.instruments), len(evidence.axes.notes)
    return (readings.player * instruments + readings.instrument) * notes + readings.note


def _unpacked(places: Numbers, evidence: Evidence) -> list[PlayedNote]:
    pair, note = np.divmod(places, len(evidence.axes.notes))
    player, instrument = np.divmod(pair, len(evidence.axes.instruments))
    return list(zip(player.tolist(), instrument.tolist(), note.tolist(), strict=True))


def _day_means(
    usual: Readings, note: Numbers, day: Numbers, evidence: Evidence
) -> tuple[Array, Array]:
    """Return the mean of each note on each day about its sittings' middles, and its tones."""
    own = np.bincount(note, weights=usual.cents) / np.bincount(note)
    off = usual.cents - own[note]
    off -= median_of_each(usual.sitting, off, len(evidence.axes.sittings))[usual.sitting]
    count = np.bincount(day).astype(float)
    return np.bincount(day, weights=off) / count, count


def _expected(count: Array, slope: Array, log_size: Array) -> Array:
    """Return the variance of a day's mean that is nothing to wonder at, in cents squared."""
    size = dict(zip(FREE, np.array(magnitudes.SIZES) * np.exp(log_size), strict=True))
    tone = size["pitch"] ** 2 + (slope * size["breath repeat"]) ** 2
    return np.asarray(size["day"] ** 2 + tone / count, dtype=np.float64)


def _beyond_expected(mean: Array, expected: Array, owner: Numbers) -> Array:
    """Return the variance of each note's days beyond what is expected; 0 unless half lie apart."""
    days = np.bincount(owner).astype(float)
    off = mean - median_of_each(owner, mean, len(days))[owner]
    pairs = days == 2.0
    # The lower of two days is their median here; their middle is half-way.
    halves = np.bincount(owner, weights=off) / 2.0
    off -= np.where(pairs, halves, 0.0)[owner]
    left = np.maximum(1.0 - 1.0 / days, 0.5)
    apart = np.bincount(owner, weights=np.abs(off) > _SURPRISE * np.sqrt(expected * left[owner]))
    between = np.bincount(owner, weights=off**2 / left[owner] - expected) / days
    return np.where((days > 1.0) & (2.0 * apart >= days), between, 0.0)
