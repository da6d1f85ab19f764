"""A leak suspected from a whole take: low notes sharp and unstable while high ones are fine."""

from collections.abc import Sequence

import numpy as np

from intonation.assessment.summary import NoteSummary
from intonation.instruments.instrument import Instrument

_LOWEST_NOTES = 7
_SHARP_CENTS = 8.0
_UNSTABLE_CENTS = 5.0
_FEWEST = 2
"""Sizes are judgement: the acoustic model sharpens the lowest notes by 15 to 22 cents for a hole
that leaks by one per cent; that they waver with it is common practice, no source."""


def leak_suspected(notes: Sequence[NoteSummary], *, instrument: Instrument) -> bool:
    """Return whether the notes of a take look as if a finger or a pad leaked.

    Parameters
    ----------
    notes
        Every note of the take with mean and spread.
    instrument
        Its compass tells which notes close most holes.
    """
    edge = instrument.lowest_midi + _LOWEST_NOTES
    low = [note for note in notes if note.midi < edge]
    high = [note for note in notes if note.midi >= edge]
    repeated = [note.spread_cents for note in low if note.count > 1]
    if len(low) < _FEWEST or len(high) < _FEWEST or not repeated:
        return False
    sharper = np.mean([n.mean_cents for n in low]) - np.mean([n.mean_cents for n in high])
    calm = np.mean([note.spread_cents for note in high if note.count > 1] or [0.0])
    return bool(
        sharper >= _SHARP_CENTS
        and np.mean(repeated) >= _UNSTABLE_CENTS
        and np.mean(repeated) > 1.5 * calm
    )
