"""An instrument's dimensions from a maker's TOML file."""

import tomllib
from itertools import pairwise
from typing import Any

from intonation.acoustics.geometry import BorePoint, Geometry, ToneHole
from intonation.errors import DataFileError
from intonation.language import say

_NUMBERS = ("window_mm", "head_joint_mm")
_HOLE_NUMBERS = ("position_mm", "diameter_mm", "chimney_mm")
_EXAMPLE = say("See docs/geometry-files.md for an example.")
_SINGLE = ("0", "1", "2", "3", "4", "5")
_PAIRED = ("6", "7")
_NAMES = say("Name the holes 0 (thumb) to 7; the holes of a pair are 6a and 6b, 7a and 7b.")


def parse_geometry(text: str, *, file_name: str) -> Geometry:
    """Return the geometry that a TOML text describes.

    Parameters
    ----------
    text
        Content of the file.
    file_name
        Its name, for the sentences about mistakes.

    Raises
    ------
    DataFileError
        If something is missing, is no positive number, or lies outside the bore.
    """
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as mistake:
        raise DataFileError(
            say("{file_name} is not a TOML file: {mistake}.", file_name=file_name, mistake=mistake),
            _EXAMPLE,
        ) from None
    numbers = {key: _positive(table, key, f"{file_name}") for key in _NUMBERS}
    geometry = Geometry(
        name=str(table.get("name", file_name)),
        source=str(table.get("source", say("not stated"))),
        bore=_bore(table.get("bore_mm"), file_name),
        holes=tuple(_hole(entry, file_name) for entry in _hole_tables(table, file_name)),
        **numbers,
    )
    _check_names([hole.name for hole in geometry.holes], file_name)
    _check_positions(geometry, file_name)
    return geometry


def _positive(table: dict[str, Any], key: str, where: str) -> float:
    value = table.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < 1e5:
        raise DataFileError(
            say(
                "{where}: {key} must be a positive length in millimetres, not {value!r}.",
                where=where,
                key=key,
                value=value,
            ),
            _EXAMPLE,
        )
    return float(value)


def _bore(points: object, file_name: str) -> tuple[BorePoint, ...]:
    expected = say(
        "bore_mm must be a list of at least two [position, radius] pairs, rising in position"
    )
    try:
        bore = tuple(BorePoint(float(x), float(r)) for x, r in points)  # type: ignore[attr-defined]
    except (TypeError, ValueError):
        raise DataFileError(f"{file_name}: {expected}.", _EXAMPLE) from None
    rising = all(a.position_mm < b.position_mm for a, b in pairwise(bore))
    if len(bore) < 2 or not rising or not all(0 < p.radius_mm < 1e3 for p in bore):
        raise DataFileError(f"{file_name}: {expected}.", _EXAMPLE)
    return bore


def _hole_tables(table: dict[str, Any], file_name: str) -> list[dict[str, Any]]:
    holes = table.get("hole", [])
    if not isinstance(holes, list) or not holes or not all(isinstance(h, dict) for h in holes):
        raise DataFileError(
            say("{file_name}: there is no [[hole]] table.", file_name=file_name), _EXAMPLE
        )
    return holes


def _hole(entry: dict[str, Any], file_name: str) -> ToneHole:
    name = str(entry.get("name", say("without a name")))
    where = say("{file_name}, hole {name}", file_name=file_name, name=name)
    return ToneHole(name, *(_positive(entry, key, where) for key in _HOLE_NUMBERS))


def _check_names(names: list[str], file_name: str) -> None:
    """Refuse holes that no finger would ever open, two of a name, and holes that are missing."""
    pairs = [(finger, f"{finger}a", f"{finger}b") for finger in _PAIRED]
    known = {*_SINGLE, *(name for pair in pairs for name in pair)}
    for name in names:
        if name not in known:
            raise DataFileError(
                say(
                    '{file_name}: there is no hole "{name}" on a recorder.',
                    file_name=file_name,
                    name=name,
                ),
                _NAMES,
            )
        if names.count(name) > 1:
            raise DataFileError(
                say("{file_name}: hole {name} stands there twice.", file_name=file_name, name=name),
                _NAMES,
            )
    for finger in _SINGLE:
        if finger not in names:
            raise DataFileError(
                say("{file_name}: hole {finger} is missing.", file_name=file_name, finger=finger),
                _NAMES,
            )
    for single, larger, smaller in pairs:
        if {single, larger, smaller} & set(names) not in ({single}, {larger, smaller}):
            raise DataFileError(
                say(
                    "{file_name}: finger {single} needs either one hole {single} or the "
                    "pair {larger} and {smaller}.",
                    file_name=file_name,
                    single=single,
                    larger=larger,
                    smaller=smaller,
                ),
                _NAMES,
            )


def _check_positions(geometry: Geometry, file_name: str) -> None:
    for hole in geometry.holes:
        if hole.position_mm >= geometry.length_mm:
            raise DataFileError(
                say(
                    "{file_name}, hole {hole}: it lies beyond the end of the bore at "
                    "{length_mm:g} mm.",
                    file_name=file_name,
                    hole=hole.name,
                    length_mm=geometry.length_mm,
                ),
                say("Measure positions from the window's lip."),
            )
        if hole.diameter_mm / 2 >= geometry.radius_mm(hole.position_mm):
            raise DataFileError(
                say(
                    "{file_name}, hole {hole}: it is wider than the bore at its place.",
                    file_name=file_name,
                    hole=hole.name,
                ),
                say("Give diameters of holes and radii of the bore, both in millimetres."),
            )
