"""Altered altos that an independent library has computed too: each hole, the bore, the head."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from intonation.acoustics.alterations import Alteration, altered
from intonation.acoustics.geometry import Geometry
from intonation.pitch.notes import equal_tempered_hz
from tests.support.recorder_fingerings import CHART, HOLES, open_fractions

MIDI = list(CHART)
FINGERINGS = [open_fractions(closed) for closed in CHART.values()]
NEAR_HZ = [equal_tempered_hz(midi, a4_hz=440.0) for midi in MIDI]

Change = Callable[[Geometry], Geometry]
ZONES_MM = ((82.0, 168.7), (168.7, 255.3), (255.3, 342.0), (342.0, 428.6))


def worked(geometry: Geometry, *, alteration: Alteration) -> Geometry:
    return altered(geometry, alteration)


def moved(geometry: Geometry, *, hole: str, by_mm: float) -> Geometry:
    found = geometry.hole(hole)
    return geometry.with_hole(replace(found, position_mm=found.position_mm + by_mm))


def _cases() -> dict[str, Change]:
    cases: dict[str, Change] = {"as it is": lambda geometry: geometry}
    for hole in HOLES:
        larger = Alteration(work="enlarge a hole", amount_mm=0.2, hole=hole)
        cases[f"hole {hole} larger"] = partial(worked, alteration=larger)
        cases[f"hole {hole} up"] = partial(moved, hole=hole, by_mm=-0.5)
    for start, end in ZONES_MM:
        lining = Alteration(work="line the bore", amount_mm=0.05, from_mm=start, to_mm=end)
        cases[f"bore {start:.0f} lined"] = partial(worked, alteration=lining)
    pull = Alteration(work="pull the head joint", amount_mm=0.5)
    cases["head pulled"] = partial(worked, alteration=pull)
    return cases


CASES = _cases()
