"""What a note's readings can tell at all: whether its parts were told apart, and how it bends."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.bending import Bending
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.parts import Interval, interval
from intonation.diagnosis.readings import Readings, distinct


@dataclass(frozen=True, slots=True)
class Knowable:
    """Who has played what, and how.

    Parameters
    ----------
    swelled
        (player, instrument, note) that were swelled with a level.
    unaided
        (player, instrument, note) that were played without a reference, and without being seen.
    players_of, instruments_of
        Who else has played an (instrument, note), and on what else a (player, note) was played.
    bends
        How each swelled (instrument, note) bends, in cents per dB.
    """

    swelled: frozenset[tuple[int, int, int]]
    unaided: frozenset[tuple[int, int, int]]
    players_of: dict[tuple[int, int], frozenset[int]]
    instruments_of: dict[tuple[int, int], frozenset[int]]
    bends: dict[tuple[int, int], Interval]

    def is_told_apart(self, player: int, instrument: int, note: int) -> bool:
        """Return whether anything but a plain tone of this pair speaks of a note.

        That is a swell, another player of the instrument, or another instrument of the player.
        Without them a blame would only repeat what players usually are like.
        """
        if (player, instrument, note) in self.swelled:
            return True
        return len(self.players_of[instrument, note]) + len(self.instruments_of[player, note]) > 2


def knowable_from(evidence: Evidence, bending: Bending) -> Knowable:
    """Return what can be known from evidence."""
    seen = evidence.readings
    swelled = seen.middle & np.isfinite(seen.level_db)
    players: dict[tuple[int, int], set[int]] = defaultdict(set)
    instruments: dict[tuple[int, int], set[int]] = defaultdict(set)
    for player, instrument, note in distinct(seen.player, seen.instrument, seen.note).tolist():
        players[instrument, note].add(player)
        instruments[player, note].add(instrument)
    return Knowable(
        _played(seen.where(swelled)),
        _played(seen.where(~seen.matched)),
        {key: frozenset(value) for key, value in players.items()},
        {key: frozenset(value) for key, value in instruments.items()},
        _bends(evidence, bending),
    )


def _played(readings: Readings) -> frozenset[tuple[int, int, int]]:
    places = distinct(readings.player, readings.instrument, readings.note).tolist()
    return frozenset((player, instrument, note) for player, instrument, note in places)


def _bends(evidence: Evidence, bending: Bending) -> dict[tuple[int, int], Interval]:
    swelled = {
        (swell.instrument, swell.note)
        for swell in evidence.swells
        if swell.shape.cents_per_db is not None
    }
    slope, spread = bending.cents_per_db, bending.cents_per_db_sd
    return {place: interval(float(slope[place]), float(spread[place])) for place in swelled}
