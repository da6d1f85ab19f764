"""Fingering systems beside the baroque one: only the notes that they play otherwise."""

from functools import cache

from intonation.instruments.chart import ChartNote, FingeringChart, chart_named

OTHER_SYSTEMS = ("german", "historic")


@cache
def _other_charts() -> tuple[FingeringChart, ...]:
    return tuple(map(chart_named, OTHER_SYSTEMS))


def other_fingerings(step: int) -> tuple[tuple[str, ChartNote], ...]:
    """Return title and entry of every other system that plays a note otherwise.

    Parameters
    ----------
    step
        Semitones above the lowest note.
    """
    return tuple(
        (chart.title, note)
        for chart in _other_charts()
        for note in chart.notes
        if note.step == step
    )
