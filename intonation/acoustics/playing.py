"""The pitch at which a fingering plays: the zero of window plus bore reactance."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from intonation.acoustics.air import Air, air_at
from intonation.acoustics.geometry import Geometry, OpenFractions
from intonation.acoustics.toneholes import past_hole
from intonation.acoustics.waveguide import Complex, Real, open_end, through_cylinder

WARM_BORE_CELSIUS = 25.0
_SLICE_MM = 4.0
_SEARCH_CENTS = 160.0
_SEARCH_POINTS = 33


def input_impedance(
    geometry: Geometry, frequency_hz: Real, fingerings: Sequence[OpenFractions], *, air: Air
) -> Complex:
    """Return the impedance of the bore seen from the window, in Pa s/m³.

    Parameters
    ----------
    geometry
        The instrument.
    frequency_hz
        Frequencies, shape ``(fingerings, n)``.
    fingerings
        Open fractions of the holes; holes not named are closed.
    air
        The gas.
    """
    load = open_end(frequency_hz, geometry.bore[-1].radius_mm / 1000.0, air)
    position_mm = geometry.length_mm
    for hole in sorted(geometry.holes, key=lambda hole: -hole.position_mm):
        load = _up_the_bore(load, frequency_hz, geometry, position_mm, hole.position_mm, air)
        position_mm = hole.position_mm
        fractions = np.array([[fingering.get(hole.name, 0.0)] for fingering in fingerings])
        load = past_hole(
            load,
            frequency_hz,
            open_fraction=fractions,
            hole_radius_m=hole.diameter_mm / 2000.0,
            chimney_m=hole.chimney_mm / 1000.0,
            bore_radius_m=geometry.radius_mm(hole.position_mm) / 1000.0,
            air=air,
        )
    return _up_the_bore(load, frequency_hz, geometry, position_mm, 0.0, air)


def _up_the_bore(
    load: Complex, frequency_hz: Real, geometry: Geometry, from_mm: float, to_mm: float, air: Air
) -> Complex:
    """Return the load seen further up, through short cylinders that follow the bore."""
    corners = [p.position_mm for p in geometry.bore if to_mm < p.position_mm < from_mm]
    stops = [to_mm, *corners, from_mm]
    for upper, lower in reversed(list(pairwise(stops))):
        count = max(1, round((lower - upper) / _SLICE_MM))
        width_mm = (lower - upper) / count
        for piece in reversed(range(count)):
            radius_mm = geometry.radius_mm(upper + (piece + 0.5) * width_mm)
            load = through_cylinder(
                load,
                frequency_hz,
                length_m=width_mm / 1000.0,
                radius_m=radius_mm / 1000.0,
                air=air,
            )
    return load


def playing_frequencies_hz(
    geometry: Geometry,
    fingerings: Sequence[OpenFractions],
    near_hz: Sequence[float],
    *,
    celsius: float = WARM_BORE_CELSIUS,
) -> Real:
    """Return the frequency that each fingering plays, nearest to the note it is meant for.

    Parameters
    ----------
    geometry
        The instrument.
    fingerings
        Open fractions per note.
    near_hz
        For each fingering, the note that it is meant to play.
    celsius
        Temperature of the air in the bore.

    Returns
    -------
    ndarray
        Frequencies in Hz, shape ``(fingerings,)``; NaN where nothing resonates within
        160 cents of the note.

    Notes
    -----
    A flue instrument sounds near the zero of ``Im(Z_window + Z_bore)`` with rising reactance
    (N. H. Fletcher & T. D. Rossing, *The Physics of Musical Instruments*, ch. 16; from memory).
    Breath is left out: it moves the pitch by the measured slopes, not by this model.
    """
    air = air_at(celsius)
    centre = np.asarray(near_hz, dtype=float)[:, None]
    cents = np.linspace(-_SEARCH_CENTS, _SEARCH_CENTS, _SEARCH_POINTS)[None, :]
    coarse = _rising_zero(geometry, centre, cents, fingerings, air)
    fine = np.linspace(-1.0, 1.0, 3)[None, :] * 1.0
    return _rising_zero(geometry, coarse[:, None], fine, fingerings, air)


def _rising_zero(
    geometry: Geometry,
    centre_hz: Real,
    cents: Real,
    fingerings: Sequence[OpenFractions],
    air: Air,
) -> Real:
    """Return where the total reactance crosses zero upwards, nearest to the centre, in hertz."""
    frequency = centre_hz * np.exp2(cents / 1200.0)
    safe = np.where(np.isfinite(frequency), frequency, 1000.0)
    reactance = np.imag(
        input_impedance(geometry, safe, fingerings, air=air) + window(geometry, safe, air)
    )
    before, after = reactance[:, :-1], reactance[:, 1:]
    share = np.clip(-before / np.where(after == before, 1.0, after - before), -1.0, 2.0)
    crossing = cents[:, :-1] + share * np.diff(cents, axis=1)
    rising = after > before
    if cents.shape[1] > 3:
        rising &= (before <= 0.0) & (after > 0.0)
    distance = np.where(rising, np.abs(crossing), np.inf)
    best = np.argmin(distance, axis=1)
    rows = np.arange(len(best))
    found = np.where(np.isfinite(distance[rows, best]), crossing[rows, best], np.nan)
    return np.asarray(centre_hz[:, 0] * np.exp2(found / 1200.0))


def window(geometry: Geometry, frequency_hz: Real, air: Air) -> Complex:
    """Return the impedance of the window's air mass in Pa s/m³."""
    radius_m = geometry.bore[0].radius_mm / 1000.0
    omega = 2.0 * np.pi * frequency_hz
    mass = air.density_kg_per_m3 * geometry.window_mm / 1000.0 / (np.pi * radius_m**2)
    return np.asarray(1j * omega * mass)
