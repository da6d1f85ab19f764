"""An instrument's dimensions from a maker's TOML file."""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from intonation.acoustics.geometry import BorePoint, Geometry, ToneHole
from intonation.language import say
from intonation.toml_text import TomlText, parse_toml

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
    toml = parse_toml(text, file_name=file_name, what_to_do=_EXAMPLE)
    window_mm, head_joint_mm = (_length(toml, toml.table, key) for key in _NUMBERS)
    geometry = Geometry(
        name=str(toml.table.get("name", file_name)),
        source=str(toml.table.get("source", say("not stated"))),
        bore=_bore(toml),
        holes=tuple(_hole(toml, entry, nth) for nth, entry in enumerate(_hole_tables(toml))),
        window_mm=window_mm,
        head_joint_mm=head_joint_mm,
    )
    _check_names(toml, [hole.name for hole in geometry.holes])
    _check_positions(toml, geometry)
    return geometry


def _length(
    toml: TomlText, table: Mapping[str, Any], key: str, *, hole: int | None = None
) -> float:
    """Return a length at the top of the file or in its nth hole, or refuse it with its line."""
    header, nth = (None, 0) if hole is None else ("hole", hole)
    if key not in table:
        line = toml.line_of("", header=header, nth=nth)
        raise toml.mistake(line, say("{key} is missing.", key=key), _EXAMPLE)
    value = table[key]
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < 1e5:
        raise toml.mistake(
            toml.line_of(key, header=header, nth=nth),
            say(
                "{key} must be a positive length in millimetres, not {value!r}.",
                key=key,
                value=value,
            ),
            _EXAMPLE,
        )
    return float(value)


def _bore(toml: TomlText) -> tuple[BorePoint, ...]:
    try:
        points = [BorePoint(float(x), float(r)) for x, r in toml.table.get("bore_mm", ())]
    except (TypeError, ValueError):
        points = []
    rising = all(a.position_mm < b.position_mm for a, b in pairwise(points))
    if len(points) < 2 or not rising or not all(0 < point.radius_mm < 1e3 for point in points):
        expected = say(
            "bore_mm must be a list of at least two [position, radius] pairs, rising in position."
        )
        raise toml.mistake(toml.line_of("bore_mm"), expected, _EXAMPLE)
    return tuple(points)


def _hole_tables(toml: TomlText) -> list[dict[str, Any]]:
    holes = toml.table.get("hole", [])
    if not isinstance(holes, list) or not holes or not all(isinstance(h, dict) for h in holes):
        raise toml.mistake(toml.line_of("hole"), say("there is no [[hole]] table."), _EXAMPLE)
    return holes


def _hole(toml: TomlText, entry: Mapping[str, Any], nth: int) -> ToneHole:
    name = str(entry.get("name", say("without a name")))
    return ToneHole(name, *(_length(toml, entry, key, hole=nth) for key in _HOLE_NUMBERS))


def _check_names(toml: TomlText, names: Sequence[str]) -> None:
    """Refuse holes that no finger would ever open, two of a name, and holes that are missing."""
    pairs = [(finger, f"{finger}a", f"{finger}b") for finger in _PAIRED]
    known = {*_SINGLE, *(name for pair in pairs for name in pair)}
    for nth, name in enumerate(names):
        line = toml.line_of("name", header="hole", nth=nth)
        if name not in known:
            problem = say('there is no hole "{name}" on a recorder.', name=name)
            raise toml.mistake(line, problem, _NAMES)
        if name in names[:nth]:
            problem = say("hole {name} stands there twice.", name=name)
            raise toml.mistake(line, problem, _NAMES)
    for finger in _SINGLE:
        if finger not in names:
            raise toml.mistake(None, say("hole {finger} is missing.", finger=finger), _NAMES)
    for pair in pairs:
        _check_pair(toml, names, pair)


def _check_pair(toml: TomlText, names: Sequence[str], pair: tuple[str, str, str]) -> None:
    single, larger, smaller = pair
    if {single, larger, smaller} & set(names) not in ({single}, {larger, smaller}):
        problem = say(
            "finger {single} needs either one hole {single} or the pair {larger} and {smaller}.",
            single=single,
            larger=larger,
            smaller=smaller,
        )
        raise toml.mistake(None, problem, _NAMES)


def _check_positions(toml: TomlText, geometry: Geometry) -> None:
    for nth, hole in enumerate(geometry.holes):
        if hole.position_mm >= geometry.length_mm:
            raise toml.mistake(
                toml.line_of("position_mm", header="hole", nth=nth),
                say(
                    "hole {hole} lies beyond the end of the bore at {length_mm:g} mm.",
                    hole=hole.name,
                    length_mm=geometry.length_mm,
                ),
                say("Measure positions from the window's lip."),
            )
        if hole.diameter_mm / 2 >= geometry.radius_mm(hole.position_mm):
            raise toml.mistake(
                toml.line_of("diameter_mm", header="hole", nth=nth),
                say("hole {hole} is wider than the bore at its place.", hole=hole.name),
                say("Give diameters of holes and radii of the bore, both in millimetres."),
            )
