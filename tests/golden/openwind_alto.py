"""Write openwind_alto.json: what an independent finite-element library plays on the alto.

Run by hand with openwind 0.12.4 (GPL-3, used as a reference only, never shipped or needed):
``python -m tests.golden.openwind_alto``. Dimensions go in as they are in the geometry file; the
matching volume of each hole is added to its chimney, as in A. Chaigne & J. Kergomard, *Acoustics of
Musical Instruments* (2016), ch. 7. Air is dry, at 25 °C.
"""

import json
import warnings
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from openwind import ImpedanceComputation
from openwind.continuous.physical_radiation import RadiationPade, taylor_to_pade
from openwind.continuous.physics import Physics

from intonation.acoustics.geometry import Geometry, ToneHole
from intonation.acoustics.library import alto_geometry
from tests.support.openwind_cases import CASES, FINGERINGS, NEAR_HZ
from tests.support.recorder_fingerings import PINCHED

SEARCH_CENTS = np.array([-50.0, -20.0, -8.0, 0.0, 8.0, 20.0, 50.0])
DRY = {"humidity": 0.0, "carbon": 0.0, "ref_phy_coef": "Chaigne_Kergomard"}

# A hole in a wall lies between a pipe's end in free air and one in an endless plane.
RadiationPade.COEFS["in a wall"] = taylor_to_pade((0.6133 + 0.8236) / 2.0, 0.25)


@dataclass(frozen=True, slots=True, kw_only=True)
class Acoustics:
    """How the library is asked to compute: radiation, corrections at the holes, slit, air."""

    hole_radiation: str = "in a wall"
    bell_radiation: str = "unflanged"
    volume_in_chimney: bool = True
    matching_volume: bool = False
    thumb_slit: float = PINCHED
    losses_times: float = 1.0
    celsius: float = 25.0


USUAL = Acoustics()


def speed_m_per_s(celsius: float) -> float:
    """Return the library's speed of sound."""
    return float(Physics(celsius, **DRY).c(0))


def playing_hz(
    geometry: Geometry, acoustics: Acoustics = USUAL, near_hz: list[float] = NEAR_HZ
) -> list[float]:
    """Return what every note of the chart plays, in hertz."""
    found: dict[int, float] = {}
    for pinched in (False, True):
        notes = [i for i, f in enumerate(FINGERINGS) if (f["0"] == PINCHED) == pinched]
        instrument = _instrument(geometry, acoustics, notes, pinched=pinched)
        for note in notes:
            instrument.set_note(f"note-{note}")
            found[note] = _rising_zero(instrument, geometry, acoustics, near_hz[note])
    return [found[note] for note in range(len(FINGERINGS))]


def _instrument(
    geometry: Geometry, acoustics: Acoustics, notes: list[int], *, pinched: bool
) -> ImpedanceComputation:
    holes: list[list[object]] = [["label", "position", "radius", "chimney"]]
    chart: list[list[str]] = [["label", *(f"note-{note}" for note in notes)]]
    for hole in geometry.holes:
        share = acoustics.thumb_slit if pinched and hole.name == "0" else 1.0
        radius_mm = hole.diameter_mm / 2.0 * share**0.5
        chimney_mm = hole.chimney_mm
        if acoustics.volume_in_chimney:
            chimney_mm += _matching_mm(hole, geometry, radius_mm)
        label = f"hole-{hole.name}"
        holes.append([label, hole.position_mm / 1e3, radius_mm / 1e3, chimney_mm / 1e3])
        chart.append([label, *("o" if FINGERINGS[n][hole.name] > 0.0 else "x" for n in notes)])
    return ImpedanceComputation(
        np.array([500.0]),
        [[point.position_mm / 1e3, point.radius_mm / 1e3] for point in geometry.bore],
        holes,
        chart,
        temperature=acoustics.celsius,
        losses="bessel",
        loss_factor_alphainv=acoustics.losses_times,
        radiation_category={"bell": acoustics.bell_radiation, "holes": acoustics.hole_radiation},
        matching_volume=acoustics.matching_volume,
        **DRY,
    )


def _matching_mm(hole: ToneHole, geometry: Geometry, radius_mm: float) -> float:
    delta = radius_mm / geometry.radius_mm(hole.position_mm)
    return float(radius_mm * delta * (1.0 + 0.207 * delta**3) / 8.0)


def _rising_zero(
    instrument: ImpedanceComputation, geometry: Geometry, acoustics: Acoustics, near_hz: float
) -> float:
    """Return where window and bore together have no reactance, by straight lines in between."""
    density = Physics(acoustics.celsius, **DRY).rho(0)
    area = np.pi * (geometry.bore[0].radius_mm / 1e3) ** 2
    centre = near_hz
    for width in (1.0, 0.1):
        frequency = centre * np.exp2(width * SEARCH_CENTS / 1200.0)
        instrument.recompute_impedance_at(frequency)
        mass = density * geometry.window_mm / 1e3 / area
        reactance = np.imag(instrument.impedance) + 2.0 * np.pi * frequency * mass
        centre = float(np.interp(0.0, reactance, frequency))
    return centre


def golden() -> dict[str, object]:
    """Return every case's frequencies and the speed of sound that they were computed with."""
    alto = alto_geometry()
    return {
        "openwind": "0.12.4",
        "speed_m_per_s": round(speed_m_per_s(USUAL.celsius), 4),
        "playing_hz": {
            name: [round(hz, 4) for hz in playing_hz(change(alto))]
            for name, change in CASES.items()
        },
    }


def written(path: Path, content: object) -> None:
    """Write a golden file, one case to a line."""
    path.write_text(json.dumps(content, separators=(",", ":")).replace("],", "],\n") + "\n")


if __name__ == "__main__":
    warnings.simplefilter("ignore")
    written(Path(__file__).with_suffix(".json"), golden())
