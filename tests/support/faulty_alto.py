"""An invented alto whose octaves are too wide and whose hole 4 is too small, and its player.

The faults are drawn by the acoustic model; the player, with all that is only human, by ``worlds``.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cache

import numpy as np

from intonation.acoustics.alterations import Alteration
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.library import instrument_named
from intonation.workshop.compass import Compass, compass_of
from intonation.workshop.faults import Cause, candidate_causes
from tests.support.worlds import (
    CHROMATIC,
    USUAL,
    Instrument,
    Player,
    Sitting,
    made_instrument,
    made_player,
)

# A careful player on an instrument that is otherwise even: invented for simulation.
WORLD = replace(USUAL, rough_cents=1.5, tilt_cents=2.0, register_cents=1.0, habit=0.6)
NAME = "plum alto"
PLAYER = "wren"


@cache
def alto() -> Compass:
    return compass_of(instrument_named("alto"))


@cache
def alto_causes() -> tuple[Cause, ...]:
    return candidate_causes(alto())


def over_chromatic(cents: Sequence[float]) -> np.ndarray:
    """Spread cents over the simulated compass; a note that the model lacks stays in place."""
    by_note = dict(zip(alto().midi, cents, strict=True))
    return np.array([by_note.get(midi, 0.0) for midi in CHROMATIC])


def pattern(kind: str, hole: str | None = None) -> np.ndarray:
    (found,) = (c for c in alto_causes() if (c.kind, c.hole) == (kind, hole))
    return over_chromatic(found.pattern)


@dataclass(slots=True)
class FaultyAlto:
    """The instrument in its player's hands."""

    rng: np.random.Generator
    player: Player
    instrument: Instrument
    altered_cents: np.ndarray = field(default_factory=lambda: np.zeros(len(CHROMATIC)))
    events: int = 0

    def check(self, session: str, passes: str = "ABAB") -> list[HeldNoteRow]:
        """Play the instrument check: A as always, B with exact fingers and swells."""
        sitting = Sitting(
            WORLD, self.rng, self.player, self.instrument, session, minutes=12.0
        ).begin()
        sitting.changed_cents = self.altered_cents
        for letter in passes:
            sitting.play_pass(letter, CHROMATIC)
        return sitting.rows

    def alter(self, alterations: Sequence[Alteration]) -> None:
        """Do some work: from now on the notes lie where the model says."""
        self.altered_cents = over_chromatic(alto().effect(alterations).tolist())


def faulty_alto(seed: int, *, wide_cents: float = 18.0, small_cents: float = 18.0) -> FaultyAlto:
    """Return the alto with a player of its own."""
    rng = np.random.default_rng(seed)
    player, instrument = made_player(rng, WORLD, PLAYER), made_instrument(rng, WORLD, NAME)
    instrument.offset_cents = (
        instrument.offset_cents
        + wide_cents * pattern("octaves")
        - small_cents * pattern("hole size", "4")
    )
    return FaultyAlto(rng, player, instrument)
