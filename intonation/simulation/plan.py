"""What a simulated player is going to play."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from intonation.instruments.instrument import Instrument

_CONSONANT = (0, 3, 4, 5, 7, 8, 9, 12)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedNote:
    """One note and the rest after it.

    Parameters
    ----------
    midi
        Its note.
    sounding_s, rest_s
        How long it sounds, and how long the silence after it is.
    breath_db
        Breath on purpose, relative to the player's habit.
    swell_db
        Breath gained from the beginning to the end of the note, evenly.
    fingers_cents
        What the fingers do to the note, beside the thumb's habit.
    """

    midi: int
    sounding_s: float = 2.5
    rest_s: float = 0.8
    breath_db: float = 0.0
    swell_db: float = 0.0
    fingers_cents: float = 0.0


def long_tones(notes_midi: Iterable[int], *, sounding_s: float = 2.5) -> tuple[PlannedNote, ...]:
    """Return one long tone on each note."""
    return tuple(PlannedNote(midi=midi, sounding_s=sounding_s) for midi in notes_midi)


def drone_practice(
    instrument: Instrument, *, drone_midi: int, count: int, rng: np.random.Generator
) -> tuple[PlannedNote, ...]:
    """Return long tones in shuffled order on notes of the instrument that agree with a drone.

    Parameters
    ----------
    instrument
        Its compass.
    drone_midi
        The drone's note.
    count
        How many notes; each comes once before any comes again.
    rng
        Decides the order.
    """
    fitting = [m for m in instrument.notes_midi if (m - drone_midi) % 12 in _CONSONANT]
    rounds = -(-count // len(fitting))
    order = np.concatenate([rng.permutation(fitting) for _ in range(rounds)])[:count]
    return long_tones(int(midi) for midi in order)
