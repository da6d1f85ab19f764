"""Fingering systems beside the baroque one: complete charts, and what they play otherwise."""

import tomllib
from dataclasses import replace
from functools import cache
from importlib import resources

from intonation.instruments.chart import Alternative, ChartNote, FingeringChart, chart_named
from intonation.instruments.instrument import Instrument

SYSTEMS = ("baroque", "german", "historic")
"""Fingering systems, the one that every size ships with first."""


@cache
def chart_of_system(system: str) -> FingeringChart:
    """Return the complete chart of a fingering system.

    Parameters
    ----------
    system
        One of ``SYSTEMS``. Notes that a system plays like the baroque one are taken from there.
    """
    usual = chart_named("baroque")
    if system == usual.name:
        return usual
    own = chart_named(system)
    otherwise = {note.step: note for note in own.notes}
    inherited = _inherited_source(system)
    notes = (otherwise.get(note.step) or _inherited(note, inherited) for note in usual.notes)
    return FingeringChart(own.name, own.title, tuple(notes))


def in_system(instrument: Instrument, system: str) -> Instrument:
    """Return an instrument fingered in another system."""
    return replace(instrument, chart=chart_of_system(system))


def other_fingerings(step: int, *, than: str = "baroque") -> tuple[tuple[str, ChartNote], ...]:
    """Return title and entry of every other system that fingers a note otherwise.

    Parameters
    ----------
    step
        Semitones above the lowest note.
    than
        The system that is looked at.
    """
    here = chart_of_system(than).notes[step].fingering
    others = (chart_of_system(system) for system in SYSTEMS if system != than)
    return tuple(
        (chart.title, chart.notes[step]) for chart in others if chart.notes[step].fingering != here
    )


def _inherited_source(system: str) -> str:
    path = resources.files("intonation.instruments") / "data" / f"{system}.toml"
    return str(tomllib.loads(path.read_text("utf-8"))["sources"]["inherited"])


def _inherited(note: ChartNote, source: str) -> ChartNote:
    kept = tuple(filter(_spares_right_hand, note.alternatives))
    return replace(note, alternatives=kept, sources=(source,))


def _spares_right_hand(alternative: Alternative) -> bool:
    """Whether a difference in cents holds whatever the size of the holes of the right hand."""
    return all(alternative.fingering.mark(hole) == "-" for hole in "4567")
