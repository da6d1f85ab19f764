"""Plane waves in a lossy tube and at its open end, for arrays of frequencies."""

import numpy as np
from numpy.typing import NDArray

from intonation.acoustics.air import Air

Complex = NDArray[np.complex128]
Real = NDArray[np.float64]

UNFLANGED, FLANGED = 0.6133, 0.8236
"""End correction of an open pipe in radii (Levine & Schwinger 1948; Nomura et al. 1960; from
memory)."""


def characteristic(frequency_hz: Real, radius_m: Real | float, air: Air) -> tuple[Complex, Complex]:
    """Return characteristic impedance and propagation constant of a cylinder with wall losses.

    Parameters
    ----------
    frequency_hz
        Frequencies, any shape.
    radius_m
        Radius, broadcastable against the frequencies.
    air
        The gas.

    Returns
    -------
    tuple
        Impedance in Pa s/m³ and ``gamma`` in 1/m.

    Notes
    -----
    Large-tube expansion in the ratio ``r_v`` of radius to viscous boundary layer: D. H. Keefe,
    *Acoustical wave propagation in cylindrical ducts*, JASA 75 (1984) 58, eqs. 7-10 (from memory).
    Good to 0.1 % for ``r_v > 10``; the smallest tone hole here has 17.
    """
    omega = 2.0 * np.pi * frequency_hz
    ratio = radius_m * np.sqrt(omega * air.density_kg_per_m3 / air.viscosity_pa_s)
    lossless = air.impedance / (np.pi * np.square(radius_m))
    loss = 0.369 / ratio + 1.149 / ratio**2 + 0.303 / ratio**3
    impedance = lossless * (1.0 + 0.369 / ratio - 1j * loss)
    attenuation = 1.045 / ratio + 1.080 / ratio**2 + 0.750 / ratio**3
    gamma = omega / air.speed_m_per_s * (attenuation + 1j * (1.0 + 1.045 / ratio))
    return np.asarray(impedance, dtype=complex), np.asarray(gamma, dtype=complex)


def through_cylinder(
    load: Complex,
    frequency_hz: Real,
    *,
    length_m: Real | float,
    radius_m: Real | float,
    air: Air,
) -> Complex:
    """Return the impedance seen through a lossy cylinder that ends in a load impedance."""
    impedance, gamma = characteristic(frequency_hz, radius_m, air)
    tangent = np.tanh(gamma * length_m)
    return np.asarray(impedance * (load + impedance * tangent) / (impedance + load * tangent))


def open_end(
    frequency_hz: Real, radius_m: Real | float, air: Air, *, correction: float = UNFLANGED
) -> Complex:
    """Return the radiation impedance of an open end in Pa s/m³.

    Notes
    -----
    Low-frequency form ``Z = Z0 [(ka)²/4 + j k·δ]`` with end correction ``δ = correction · a``
    (Levine & Schwinger, Phys. Rev. 73 (1948) 383; from memory).
    """
    wavenumber = 2.0 * np.pi * frequency_hz / air.speed_m_per_s
    lossless = air.impedance / (np.pi * np.square(radius_m))
    resistance = np.square(wavenumber * radius_m) / 4.0
    return np.asarray(lossless * (resistance + 1j * wavenumber * correction * radius_m))
