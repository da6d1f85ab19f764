"""An invented recorder: how far each note lies from its place, and how far breath bends it."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from intonation.instruments.breath import breath_slopes
from intonation.instruments.instrument import Instrument

_TILT_CENTS_PER_OCTAVE = 3.0
_SECOND_REGISTER_CENTS = 5.0
_ROUGHNESS_CENTS = 4.0
_SLOPE_SPREAD = 0.15
"""How instruments differ from each other: invented for simulation."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SimulatedRecorder:
    """One instrument, as only a simulation can know it.

    Parameters
    ----------
    instrument
        Its size and fingerings.
    offset_cents
        For each sounding note, its distance from equal temperament at an ordinary breath.
    cents_per_db
        For each sounding note, how the pitch follows the level.
    """

    instrument: Instrument
    offset_cents: Mapping[int, float]
    cents_per_db: Mapping[int, float]


def perfect_recorder(instrument: Instrument) -> SimulatedRecorder:
    """Return a recorder whose every note is in its place."""
    notes = instrument.notes_midi
    return SimulatedRecorder(
        instrument=instrument,
        offset_cents=dict.fromkeys(notes, 0.0),
        cents_per_db={midi: _usual_slope(instrument, midi) for midi in notes},
    )


def invented_recorder(instrument: Instrument, rng: np.random.Generator) -> SimulatedRecorder:
    """Return a recorder with faults of its own: a tilt, a register step and uneven notes."""
    tilt, register = rng.normal(0.0, (_TILT_CENTS_PER_OCTAVE, _SECOND_REGISTER_CENTS))
    middle = (instrument.lowest_midi + instrument.highest_midi) / 2.0
    offsets, slopes = {}, {}
    for midi in instrument.notes_midi:
        smooth = tilt * (midi - middle) / 12.0 + register * instrument.in_second_register(midi)
        offsets[midi] = float(smooth + rng.normal(0.0, _ROUGHNESS_CENTS))
        spread = max(0.5, 1.0 + rng.normal(0.0, _SLOPE_SPREAD))
        slopes[midi] = float(_usual_slope(instrument, midi) * spread)
    return SimulatedRecorder(instrument=instrument, offset_cents=offsets, cents_per_db=slopes)


def _usual_slope(instrument: Instrument, midi: int) -> float:
    return breath_slopes().usual(second_register=instrument.in_second_register(midi))
