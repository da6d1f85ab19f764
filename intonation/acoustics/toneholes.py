"""A tone hole as a T-circuit in the bore: open, closed or partly covered."""

import numpy as np

from intonation.acoustics.air import Air
from intonation.acoustics.waveguide import (
    FLANGED,
    UNFLANGED,
    Complex,
    Real,
    characteristic,
    open_end,
    through_cylinder,
)

_OUTSIDE = (UNFLANGED + FLANGED) / 2.0
_CLOSED_BELOW = 1e-3


def past_hole(
    load: Complex,
    frequency_hz: Real,
    *,
    open_fraction: Real,
    hole_radius_m: float,
    chimney_m: float,
    bore_radius_m: float,
    air: Air,
) -> Complex:
    """Return the impedance seen just above a hole whose lower side is loaded.

    Parameters
    ----------
    load
        Impedance of the bore below the hole.
    frequency_hz
        Frequencies, same shape as the load.
    open_fraction
        Open share of the hole's area, 0 to 1, broadcastable against the frequencies.
    hole_radius_m, chimney_m, bore_radius_m
        Dimensions in metres.
    air
        The gas.

    Notes
    -----
    Series and inner length corrections after V. Dubos et al., Acta Acustica 85 (1999) 153, and
    matching volume after C. J. Nederveen, *Acoustical Aspects of Woodwind Instruments* (1998), as
    summarised in A. Chaigne & J. Kergomard, *Acoustics of Musical Instruments* (2016), ch. 7. A
    partly covered hole is a hole of the open area; this is the model's crudest step.
    """
    fraction = np.asarray(open_fraction, dtype=float)
    is_open = fraction > _CLOSED_BELOW
    opened_radius = hole_radius_m * np.sqrt(np.where(is_open, fraction, 1.0))
    series = _series(frequency_hz, opened_radius, bore_radius_m, air)
    shunt = np.where(
        is_open,
        _open_shunt(frequency_hz, opened_radius, chimney_m, bore_radius_m, air),
        _closed_shunt(frequency_hz, hole_radius_m, chimney_m, bore_radius_m, air),
    )
    below = load + series / 2.0
    return np.asarray(shunt * below / (shunt + below) + series / 2.0)


def _series(frequency_hz: Real, hole_m: Real, bore_m: float, air: Air) -> Complex:
    delta = hole_m / bore_m
    length = hole_m * delta**2 * (-0.37 + 0.087 * delta)
    omega = 2.0 * np.pi * frequency_hz
    return np.asarray(1j * omega * air.density_kg_per_m3 * length / (np.pi * bore_m**2))


def _matching_length(hole_m: Real | float, bore_m: float) -> Real:
    delta = np.asarray(hole_m) / bore_m
    return np.asarray(hole_m * delta * (1.0 + 0.207 * delta**3) / 8.0)


def _inner_length(hole_m: Real, bore_m: float) -> Real:
    delta = hole_m / bore_m
    polynomial = 0.82 - 0.193 * delta - 1.09 * delta**2 + 1.27 * delta**3 - 0.71 * delta**4
    return np.asarray(hole_m * polynomial)


def _open_shunt(
    frequency_hz: Real, hole_m: Real, chimney_m: float, bore_m: float, air: Air
) -> Complex:
    wavenumber = 2.0 * np.pi * frequency_hz / air.speed_m_per_s
    lossless = air.impedance / (np.pi * np.square(hole_m))
    seen_inside = through_cylinder(
        open_end(frequency_hz, hole_m, air, correction=_OUTSIDE),
        frequency_hz,
        length_m=chimney_m + _matching_length(hole_m, bore_m),
        radius_m=hole_m,
        air=air,
    )
    return np.asarray(seen_inside + 1j * wavenumber * _inner_length(hole_m, bore_m) * lossless)


def _closed_shunt(
    frequency_hz: Real, hole_m: float, chimney_m: float, bore_m: float, air: Air
) -> Complex:
    impedance, gamma = characteristic(frequency_hz, hole_m, air)
    length = chimney_m + float(_matching_length(hole_m, bore_m))
    return np.asarray(impedance / np.tanh(gamma * length))
