"""A fingering chart: for each semitone above the lowest note the usual and other fingerings."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from intonation.instruments.fingering import Fingering
from intonation.language import name_in_words


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another fingering of the same note.

    Parameters
    ----------
    fingering
        Its holes.
    expected_cents
        How much higher (positive) or lower it is expected to sound than the usual one.
    sources
        Who gives the fingering, and how the difference was found.
    remark
        A word of warning about its tone or reliability; empty without one.
    """

    fingering: Fingering
    expected_cents: float
    sources: tuple[str, ...]
    remark: str = ""


@dataclass(frozen=True, slots=True)
class ChartNote:
    """One note of a chart.

    Parameters
    ----------
    step
        Semitones above the lowest note.
    fingering
        The usual fingering.
    alternatives
        Other fingerings, in the order of the file.
    sources
        Published charts that give the usual fingering.
    remark
        What to know about it; empty without one.
    """

    step: int
    fingering: Fingering
    alternatives: tuple[Alternative, ...]
    sources: tuple[str, ...]
    remark: str = ""


@dataclass(frozen=True, slots=True)
class FingeringChart:
    """All notes of a fingering system, from the lowest (step 0) upwards without a gap."""

    name: str
    title: str
    notes: tuple[ChartNote, ...]


def _alternative(table: dict[str, Any], sources: dict[str, str]) -> Alternative:
    return Alternative(
        Fingering(table["fingering"]),
        float(table["expected_cents"]),
        tuple(sources[key] for key in table["sources"]),
        name_in_words(table.get("remark", "")),
    )


def _note(table: dict[str, Any], sources: dict[str, str]) -> ChartNote:
    return ChartNote(
        table["step"],
        Fingering(table["fingering"]),
        tuple(_alternative(row, sources) for row in table.get("alternative", ())),
        tuple(sources[key] for key in table["sources"]),
        name_in_words(table.get("remark", "")),
    )


@cache
def chart_named(name: str) -> FingeringChart:
    """Return a fingering chart that ships with the package, such as ``"baroque"``."""
    path = resources.files("intonation.instruments") / "data" / f"{name}.toml"
    table = tomllib.loads(path.read_text("utf-8"))
    notes = tuple(_note(row, table["sources"]) for row in table["note"])
    return FingeringChart(table["name"], name_in_words(table["title"]), notes)
