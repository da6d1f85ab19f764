"""Work on an instrument as changes of its geometry: what is pulled, lined, covered or cut."""

from dataclasses import dataclass, replace
from typing import Literal

from intonation.acoustics.geometry import BorePoint, Geometry, ToneHole

Work = Literal[
    "pull the head joint",
    "line the bore",
    "tape over part of a hole",
    "wax in a hole",
    "enlarge a hole",
    "undercut towards the window",
    "undercut towards the foot",
    "clay at the window",
]

REVERSIBLE: frozenset[Work] = frozenset(
    {
        "pull the head joint",
        "line the bore",
        "tape over part of a hole",
        "wax in a hole",
        "clay at the window",
    }
)
_EDGE_MM = 0.1
_UNDERCUT_WIDENING = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Alteration:
    """One piece of work.

    Parameters
    ----------
    work
        What is done.
    amount_mm
        How much: length pulled, radius taken from the bore by a lining, change of a hole's
        diameter (always positive; the work says which way), depth of an undercut measured as
        movement of the hole's edge, or length added to the window's air mass by clay.
    hole
        Which hole, where the work is on one.
    from_mm, to_mm
        Which stretch of bore, where the work is a lining.
    """

    work: Work
    amount_mm: float
    hole: str | None = None
    from_mm: float = 0.0
    to_mm: float = 0.0

    @property
    def reversible(self) -> bool:
        """Whether it can be undone without a trace."""
        return self.work in REVERSIBLE

    def by(self, amount_mm: float) -> "Alteration":
        """Return the same work by another amount."""
        return replace(self, amount_mm=amount_mm)


def altered(geometry: Geometry, alteration: Alteration) -> Geometry:
    """Return the geometry after a piece of work.

    Raises
    ------
    KeyError
        If the alteration names a hole that the instrument does not have.
    """
    work, amount_mm = alteration.work, alteration.amount_mm
    if work == "pull the head joint":
        return _pulled(geometry, amount_mm)
    if work == "line the bore":
        return _lined(geometry, amount_mm, alteration.from_mm, alteration.to_mm)
    if work == "clay at the window":
        return replace(geometry, window_mm=geometry.window_mm + amount_mm)
    return _hole_worked(geometry, alteration)


def _pulled(geometry: Geometry, gap_mm: float) -> Geometry:
    """Return the geometry with everything below the head joint moved down by the gap."""
    joint_mm = geometry.head_joint_mm
    bore = tuple(
        replace(p, position_mm=p.position_mm + (gap_mm if p.position_mm > joint_mm else 0.0))
        for p in geometry.bore
    )
    end_of_gap = BorePoint(joint_mm + gap_mm, geometry.radius_mm(joint_mm))
    above = tuple(p for p in bore if p.position_mm <= joint_mm)
    below = tuple(p for p in bore if p.position_mm > end_of_gap.position_mm)
    holes = tuple(replace(h, position_mm=h.position_mm + gap_mm) for h in geometry.holes)
    return replace(geometry, bore=(*above, end_of_gap, *below), holes=holes)


def _lined(geometry: Geometry, thickness_mm: float, from_mm: float, to_mm: float) -> Geometry:
    """Return the geometry with a narrower bore between two places, stepped at both ends."""
    outside = [
        p for p in geometry.bore if not from_mm - _EDGE_MM <= p.position_mm <= to_mm + _EDGE_MM
    ]
    inside = [
        BorePoint(p.position_mm, p.radius_mm - thickness_mm)
        for p in geometry.bore
        if from_mm < p.position_mm < to_mm
    ]
    edges = [
        BorePoint(from_mm - _EDGE_MM, geometry.radius_mm(from_mm - _EDGE_MM)),
        BorePoint(from_mm, geometry.radius_mm(from_mm) - thickness_mm),
        BorePoint(to_mm, geometry.radius_mm(to_mm) - thickness_mm),
        BorePoint(to_mm + _EDGE_MM, geometry.radius_mm(to_mm + _EDGE_MM)),
    ]
    ends = [p for p in edges if 0.0 <= p.position_mm <= geometry.length_mm]
    bore = sorted((*outside, *inside, *ends), key=lambda point: point.position_mm)
    return replace(geometry, bore=tuple(bore))


def _hole_worked(geometry: Geometry, alteration: Alteration) -> Geometry:
    hole = geometry.hole(alteration.hole or "")
    return geometry.with_hole(_worked(hole, alteration))


def _worked(hole: ToneHole, alteration: Alteration) -> ToneHole:
    amount_mm = alteration.amount_mm
    if alteration.work in ("tape over part of a hole", "wax in a hole"):
        return replace(hole, diameter_mm=hole.diameter_mm - amount_mm)
    if alteration.work == "enlarge a hole":
        return replace(hole, diameter_mm=hole.diameter_mm + amount_mm)
    towards_foot = 1.0 if alteration.work == "undercut towards the foot" else -1.0
    return replace(
        hole,
        position_mm=hole.position_mm + towards_foot * amount_mm / 2.0,
        diameter_mm=hole.diameter_mm + _UNDERCUT_WIDENING * amount_mm,
    )
