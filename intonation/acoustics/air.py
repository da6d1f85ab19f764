"""Air in the bore: speed of sound, density and losses at a temperature."""

import math
from dataclasses import dataclass

ZERO_CELSIUS_K = 273.15


@dataclass(frozen=True, slots=True)
class Air:
    """Dry air at one temperature and standard pressure.

    Parameters
    ----------
    speed_m_per_s
        Speed of sound.
    density_kg_per_m3
        Density.
    viscosity_pa_s
        Shear viscosity.
    """

    speed_m_per_s: float
    density_kg_per_m3: float
    viscosity_pa_s: float

    @property
    def impedance(self) -> float:
        """Specific acoustic impedance rho c in Pa s/m."""
        return self.density_kg_per_m3 * self.speed_m_per_s


def air_at(celsius: float) -> Air:
    """Return dry air at a temperature in degrees Celsius.

    Notes
    -----
    ``c = 331.3 √(1 + T/273.15)`` m/s for an ideal gas; density from the gas law at 101 325 Pa;
    viscosity by Sutherland's law with the constants of the U.S. Standard Atmosphere (1976).
    """
    kelvin = celsius + ZERO_CELSIUS_K
    return Air(
        speed_m_per_s=331.3 * math.sqrt(kelvin / ZERO_CELSIUS_K),
        density_kg_per_m3=101325.0 / (287.058 * kelvin),
        viscosity_pa_s=1.458e-6 * kelvin**1.5 / (kelvin + 110.4),
    )
