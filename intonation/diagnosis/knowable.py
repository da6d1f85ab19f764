"""What a note's readings can tell at all: whether its parts were told apart, and how it bends."""

import numpy as np

from intonation.diagnosis.attribution import Attribution
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.parts import Interval, Parts, interval


def is_told_apart(evidence: Evidence, parts: Parts, index: int) -> bool:
    """Return whether anything but a plain tone of this pair speaks of a note.

    That is exact fingers, a swell, another player of the instrument, or another instrument of the
    player. Without them every blame would only repeat what players usually are like.
    """
    axes, seen = evidence.axes, evidence.readings
    same_note = seen.note == axes.notes.index(parts.notes[index])
    own_player = seen.player == axes.players.index(parts.player)
    own_instrument = seen.instrument == axes.instruments.index(parts.instrument)
    pair = own_player & own_instrument
    checked = pair & (seen.exact | seen.middle)
    crossed = (own_player | own_instrument) & ~pair
    return bool(np.any(same_note & (checked | crossed)))


def bend_of(fit: Attribution, parts: Parts, index: int) -> Interval | None:
    """Return how a note bends with breath, in cents per dB; None if it was never swelled."""
    axes = fit.evidence.axes
    note = axes.notes.index(parts.notes[index])
    instrument = axes.instruments.index(parts.instrument)
    swelled = any(
        swell.note == note
        and swell.instrument == instrument
        and swell.shape.cents_per_db is not None
        for swell in fit.evidence.swells
    )
    if not swelled:
        return None
    slope = float(fit.bending.cents_per_db[instrument, note])
    return interval(slope, float(fit.bending.cents_per_db_sd[instrument, note]))
