"""A simulated recorder made with two faults, which answers to work much as a real one would.

The upper part of its middle joint is too wide, so that octaves are too wide; hole 4 is too small.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from intonation.acoustics.alterations import Alteration, altered
from intonation.acoustics.geometry import BorePoint, Geometry
from intonation.acoustics.library import geometry_of
from intonation.instruments.instrument import Instrument
from intonation.simulation.recorder import SimulatedRecorder, perfect_recorder
from intonation.workshop.compass import compass_of

_TOO_WIDE_SHARE = 0.018
_TOO_WIDE_FROM, _TOO_WIDE_TO = 0.003, 0.19
_TOO_SMALL_SHARE = 0.07
_ROUGH_CENTS = 1.5
_HOLE_MM_SHARE, _DIAMETER_SHARE, _BORE_SHARE, _WINDOW_SHARE = 0.0025, 0.03, 0.003, 0.03
_WORK_DOES = (0.8, 0.9)
"""All invented for simulation: the faults as shares of a radius, of the length below the head
joint and of a diameter; how far another maker's dimensions lie from those that ship (standard
deviations); and how much of what was meant a hand gets done."""


def recorder_with_two_faults(
    instrument: Instrument, *, seed: int, work: Sequence[Alteration] = ()
) -> SimulatedRecorder:
    """Return the recorder as it plays after some work.

    Parameters
    ----------
    instrument
        Its size and fingerings.
    seed
        Decides its maker, and how much of the work that was meant is truly done: 0.8 to 0.9 of it.
    work
        What was done to it and stands.

    Notes
    -----
    Its dimensions are not those that predictions are made with, so no prediction comes quite true.
    """
    rng = np.random.default_rng((seed, instrument.lowest_midi))
    sound = _of_another_maker(geometry_of(instrument.size), rng)
    compass = compass_of(instrument, geometry=sound)
    rough = rng.normal(0.0, _ROUGH_CENTS, len(instrument.notes_midi))
    done = rng.uniform(*_WORK_DOES)
    geometry = with_two_faults(sound)
    for alteration in work:
        geometry = altered(geometry, alteration.by(done * alteration.amount_mm))
    cents = compass.moved(geometry)
    speaks = np.isfinite(cents)
    # a note that the model cannot finger lies as its neighbours do
    notes, known = np.array(instrument.notes_midi), np.array(compass.midi)[speaks]
    offsets = np.interp(notes, known, cents[speaks]) + rough
    offset_cents = dict(zip(notes.tolist(), offsets.tolist(), strict=True))
    return replace(perfect_recorder(instrument), offset_cents=offset_cents)


def with_two_faults(sound: Geometry) -> Geometry:
    """Return an instrument with its middle joint too wide above, and hole 4 too small."""
    joint_mm, length_mm = sound.head_joint_mm, sound.length_mm
    wider = Alteration(
        work="line the bore",
        amount_mm=-_TOO_WIDE_SHARE * sound.radius_mm(joint_mm + 1.0),
        from_mm=joint_mm + _TOO_WIDE_FROM * length_mm,
        to_mm=joint_mm + _TOO_WIDE_TO * length_mm,
    )
    hole = sound.hole("4")
    smaller = replace(hole, diameter_mm=(1.0 - _TOO_SMALL_SHARE) * hole.diameter_mm)
    return altered(sound, wider).with_hole(smaller)


def _of_another_maker(usual: Geometry, rng: np.random.Generator) -> Geometry:
    holes = tuple(
        replace(
            hole,
            position_mm=hole.position_mm + rng.normal(0.0, _HOLE_MM_SHARE * usual.length_mm),
            diameter_mm=hole.diameter_mm * rng.normal(1.0, _DIAMETER_SHARE),
        )
        for hole in usual.holes
    )
    return replace(
        usual,
        window_mm=usual.window_mm * rng.normal(1.0, _WINDOW_SHARE),
        bore=tuple(
            BorePoint(point.position_mm, point.radius_mm * rng.normal(1.0, _BORE_SHARE))
            for point in usual.bore
        ),
        holes=holes,
    )
