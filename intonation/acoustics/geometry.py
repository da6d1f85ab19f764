"""A recorder's dimensions: bore, window, tone holes. Lengths in millimetres from the window."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class ToneHole:
    """One drilled hole.

    Parameters
    ----------
    name
        ``"0"`` (thumb) to ``"7"``; the two holes of a pair are ``"6a"`` (larger) and ``"6b"``.
    position_mm
        Distance of its centre from the window along the bore.
    diameter_mm
        Mean diameter.
    chimney_mm
        Length through the wall.
    """

    name: str
    position_mm: float
    diameter_mm: float
    chimney_mm: float


@dataclass(frozen=True, slots=True)
class BorePoint:
    """The bore has this radius at this distance from the window; straight lines in between."""

    position_mm: float
    radius_mm: float


@dataclass(frozen=True, slots=True)
class Geometry:
    """Everything that the model knows about an instrument.

    Parameters
    ----------
    name, source
        What it is and where the dimensions come from.
    window_mm
        Length of bore whose air mass equals that of the window and lip.
    head_joint_mm
        Distance from the window to the end of the head joint's bore, where pulling opens a gap.
    bore
        Points from window to foot, in order.
    holes
        Tone holes in any order.
    """

    name: str
    source: str
    window_mm: float
    head_joint_mm: float
    bore: tuple[BorePoint, ...]
    holes: tuple[ToneHole, ...]

    @property
    def length_mm(self) -> float:
        """Distance from the window to the open end of the foot."""
        return self.bore[-1].position_mm

    def radius_mm(self, position_mm: float) -> float:
        """Return the bore radius at a distance from the window, by linear interpolation."""
        for left, right in pairwise(self.bore):
            if position_mm <= right.position_mm:
                share = (position_mm - left.position_mm) / (right.position_mm - left.position_mm)
                return left.radius_mm + share * (right.radius_mm - left.radius_mm)
        return self.bore[-1].radius_mm

    def scaled(self, ratio: float, *, name: str) -> "Geometry":
        """Return an instrument of another size with every length multiplied by one ratio."""
        return Geometry(
            name=name,
            source=f"{self.name} scaled by {ratio:.3f}; {self.source}",
            window_mm=self.window_mm * ratio,
            head_joint_mm=self.head_joint_mm * ratio,
            bore=tuple(BorePoint(p.position_mm * ratio, p.radius_mm * ratio) for p in self.bore),
            holes=tuple(_scaled_hole(hole, ratio) for hole in self.holes),
        )

    def hole(self, name: str) -> ToneHole:
        """Return the hole of that name.

        Raises
        ------
        KeyError
            If the instrument has no such hole.
        """
        for hole in self.holes:
            if hole.name == name:
                return hole
        raise KeyError(name)

    def with_hole(self, changed: ToneHole) -> "Geometry":
        """Return this geometry with the hole of the same name replaced."""
        holes = tuple(changed if hole.name == changed.name else hole for hole in self.holes)
        return replace(self, holes=holes)


def _scaled_hole(hole: ToneHole, ratio: float) -> ToneHole:
    return ToneHole(
        hole.name, hole.position_mm * ratio, hole.diameter_mm * ratio, hole.chimney_mm * ratio
    )


OpenFractions = Mapping[str, float]
"""How much of each hole is open: 0.0 closed, 1.0 open, in between shaded or pinched."""
