"""Geometries of the recorder family. Only the alto is fitted; the others are scaled from it."""

from functools import cache
from importlib import resources

from intonation.acoustics.geometry import Geometry
from intonation.acoustics.geometry_file import parse_geometry

SEMITONES_ABOVE_ALTO = {
    "garklein": 19,
    "sopranino": 12,
    "soprano": 7,
    "alto": 0,
    "tenor": -5,
    "bass": -12,
    "great bass": -17,
    "contrabass": -24,
}
"""Distance of each size's lowest note from the alto's F4 in semitones (common practice)."""


@cache
def alto_geometry() -> Geometry:
    """Return the invented alto that the model was fitted on."""
    text = (resources.files("intonation.acoustics") / "data" / "alto.toml").read_text("utf-8")
    return parse_geometry(text, file_name="alto.toml")


@cache
def geometry_of(instrument: str) -> Geometry:
    """Return the geometry of a recorder size, scaled from the alto.

    Raises
    ------
    KeyError
        If there is no such size.
    """
    ratio = 2.0 ** (-SEMITONES_ABOVE_ALTO[instrument] / 12.0)
    return alto_geometry().scaled(ratio, name=instrument)
