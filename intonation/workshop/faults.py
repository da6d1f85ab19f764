"""Every fault of an instrument that the acoustic model knows, and the pattern that it draws."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

import numpy as np

from intonation.acoustics.alterations import Alteration, altered
from intonation.acoustics.geometry import Geometry
from intonation.workshop.compass import Cents, Compass, Progress

FaultKind = Literal["hole size", "hole place", "leak", "bore", "octaves", "head joint", "none"]

BORE_ZONES = 4
_SECOND_REGISTER_STEP = 16
_PAIRS = ("6", "7")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """A fault and the pattern that it draws over the compass.

    Parameters
    ----------
    kind
        Which sort of fault; ``"none"`` is a sound instrument.
    pattern
        Cents per note, scaled so that the largest movement is one cent, or for octaves their
        width; positive for a hole too large or too near the window, a bore too wide, a leak,
        octaves too wide, or a head joint pushed in too far.
    hole
        Which hole, for faults that have one; ``"6"`` and ``"7"`` are both holes of a pair.
    from_mm, to_mm
        Which stretch of bore, for faults that have one.
    """

    kind: FaultKind
    pattern: tuple[float, ...]
    hole: str | None = None
    from_mm: float = 0.0
    to_mm: float = 0.0

    @property
    def finger(self) -> str | None:
        """The finger that covers the hole, ``"0"`` to ``"7"``."""
        return self.hole[0] if self.hole else None

    def over(self, places: Sequence[int]) -> "Cause":
        """Return the same fault over some of the notes, by their places in the pattern."""
        return replace(self, pattern=tuple(self.pattern[place] for place in places))


def candidate_causes(compass: Compass, *, progress: Progress | None = None) -> tuple[Cause, ...]:
    """Return every fault that the acoustic model knows, with its pattern over the compass.

    Parameters
    ----------
    compass
        The instrument as it should be.
    progress
        Told the finished share after each pattern; may raise to cancel.
    """
    drawn = list(_drawings(compass))
    causes = []
    for draw in drawn:
        causes.append(draw())
        if progress is not None:
            progress(len(causes) / len(drawn))
    return tuple(causes)


def _drawings(compass: Compass) -> Iterator[Callable[[], Cause]]:
    """Yield what draws each fault's pattern, so that the work can be counted before it is done."""
    fingers = _fingers(compass.geometry)
    for name, holes in fingers.items():
        yield partial(_hole_size, compass, name, holes)
        yield partial(_hole_place, compass, name, holes)
        yield partial(_leak, compass, name, holes)
    for name in (f"{pair}b" for pair in _PAIRS if f"{pair}b" in fingers.get(pair, ())):
        yield partial(_hole_size, compass, name, (name,))
    for from_mm, to_mm in bore_zones(compass.geometry):
        yield partial(_bore, compass, from_mm, to_mm)
    yield partial(_octaves_too_wide, compass)
    yield partial(_head_joint, compass)


def _fingers(geometry: Geometry) -> dict[str, tuple[str, ...]]:
    """Return the drilled holes under each finger: two for a pair."""
    fingers: dict[str, tuple[str, ...]] = {}
    for name in sorted(hole.name for hole in geometry.holes):
        fingers[name[0]] = (*fingers.get(name[0], ()), name)
    return fingers


def bore_zones(geometry: Geometry) -> list[tuple[float, float]]:
    """Return the stretches of bore below the head joint that are told apart, in millimetres."""
    edges = np.linspace(geometry.head_joint_mm + 2.0, geometry.length_mm - 2.0, BORE_ZONES + 1)
    return list(zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True))


def _cause(kind: FaultKind, pattern: Cents, *, hole: str | None = None) -> Cause:
    return Cause(kind=kind, pattern=_scaled(pattern), hole=hole)


def _scaled(pattern: Cents) -> tuple[float, ...]:
    finite = np.nan_to_num(pattern)
    largest = np.max(np.abs(finite))
    return tuple((finite / largest if largest > 0 else finite).tolist())


def _hole_size(compass: Compass, name: str, holes: Sequence[str]) -> Cause:
    larger = [Alteration(work="enlarge a hole", amount_mm=0.1, hole=hole) for hole in holes]
    return _cause("hole size", compass.effect(larger), hole=name)


def _hole_place(compass: Compass, name: str, holes: Sequence[str]) -> Cause:
    geometry = compass.geometry
    for hole in map(geometry.hole, holes):
        geometry = geometry.with_hole(replace(hole, position_mm=hole.position_mm - 0.5))
    return _cause("hole place", compass.moved(geometry), hole=name)


def _leak(compass: Compass, name: str, holes: Sequence[str]) -> Cause:
    return _cause("leak", compass.leak_effect(holes[0]), hole=name)


def _bore(compass: Compass, from_mm: float, to_mm: float) -> Cause:
    lining = Alteration(work="line the bore", amount_mm=0.05, from_mm=from_mm, to_mm=to_mm)
    wider = -compass.effect([lining])
    return replace(_cause("bore", wider), from_mm=from_mm, to_mm=to_mm)


def _octaves_too_wide(compass: Compass) -> Cause:
    """Return a pattern that widens every octave by a cent: half down below, half up above."""
    midi = np.asarray(compass.midi)
    pattern = np.where(midi - midi[0] >= _SECOND_REGISTER_STEP, 0.5, -0.5)
    return Cause(kind="octaves", pattern=tuple(pattern.tolist()))


def _head_joint(compass: Compass) -> Cause:
    pull = Alteration(work="pull the head joint", amount_mm=0.5)
    return _cause("head joint", -compass.moved(altered(compass.geometry, pull)))
