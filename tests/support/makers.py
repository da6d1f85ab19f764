"""Altos of other makers than the model's, and twelve faults that an alto can have; all invented."""

from dataclasses import replace

import numpy as np

from intonation.acoustics.alterations import Alteration
from intonation.acoustics.geometry import BorePoint, Geometry
from intonation.acoustics.library import alto_geometry
from intonation.workshop.faults import bore_zones


def another_maker(rng: np.random.Generator) -> Geometry:
    """An instrument whose dimensions differ from the model's; magnitudes are invented."""
    geometry = alto_geometry()
    bore = (BorePoint(p.position_mm, p.radius_mm * rng.normal(1, 0.004)) for p in geometry.bore)
    holes = (
        replace(
            hole,
            position_mm=hole.position_mm + rng.normal(0, 1.5),
            diameter_mm=hole.diameter_mm * rng.normal(1, 0.05),
        )
        for hole in geometry.holes
    )
    window_mm = geometry.window_mm * rng.normal(1, 0.05)
    return replace(geometry, window_mm=window_mm, bore=tuple(bore), holes=tuple(holes))


def _hole(*names: str) -> tuple[Alteration, ...]:
    return tuple(Alteration(work="enlarge a hole", amount_mm=0.05, hole=name) for name in names)


def _zone(start: float, end: float) -> tuple[Alteration, ...]:
    return (Alteration(work="line the bore", amount_mm=0.05, from_mm=start, to_mm=end),)


TWELVE_FAULTS: dict[str, tuple[Alteration, ...]] = {
    **{name: _hole(name) for name in "012345"},
    **{name: _hole(f"{name}a", f"{name}b") for name in "67"},
    **{f"{start:.0f}": _zone(start, end) for start, end in bore_zones(alto_geometry())},
}
"""Eight holes (both of a pair together) and four stretches of bore, each at a small first size."""
