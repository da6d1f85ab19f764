"""What covering part of an open hole, or another thumb slit, does to a note: model values."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any


@dataclass(frozen=True, slots=True)
class Shading:
    """One open hole of one note, partly covered.

    Parameters
    ----------
    hole
        Finger hole ``"1"`` to ``"7"``.
    covered
        Shares of the hole that are covered, rising.
    cents
        What each of them does to the note; all negative, since shading flattens.
    """

    hole: str
    covered: tuple[float, ...]
    cents: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ThumbSlit:
    """What another opening of the pinched thumb hole does to a note.

    Parameters
    ----------
    narrow_cents, wide_cents
        Change from the usual slit to a narrow and to a wide one.
    """

    narrow_cents: float
    wide_cents: float


def _table() -> dict[str, Any]:
    path = resources.files("intonation.instruments") / "data" / "shading.toml"
    return tomllib.loads(path.read_text("utf-8"))


@cache
def shadings_by_step() -> dict[int, tuple[Shading, ...]]:
    """Return the open holes worth shading for each semitone above the lowest note, top first."""
    table = _table()
    covered = tuple(table["covered"])
    by_step: dict[int, tuple[Shading, ...]] = {}
    for row in table["shading"]:
        shading = Shading(row["hole"], covered, tuple(row["cents"]))
        by_step[row["step"]] = (*by_step.get(row["step"], ()), shading)
    return by_step


@cache
def slits_by_step() -> dict[int, ThumbSlit]:
    """Return the effect of the thumb slit for each pinched semitone above the lowest note."""
    return {
        row["step"]: ThumbSlit(row["narrow_cents"], row["wide_cents"]) for row in _table()["slit"]
    }
