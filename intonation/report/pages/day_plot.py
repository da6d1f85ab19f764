"""Sittings over time as a printed drawing: how far from its target a note was on each day."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from intonation.language import say
from intonation.report.pages.drawing import WIDTH, Drawing
from intonation.report.pages.paper import FAINT, INK, RULE, SOFT, WINDOW
from intonation.words.numbers import rounded
from intonation.words.report import NO_DATES, sittings_told

_LEFT, _TOP, _HIGH, _BELOW = 30.0, 24.0, 150.0, 24.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """One sitting as a point.

    Parameters
    ----------
    day
        When it was.
    held_notes
        How many notes were held.
    off_cents
        How far from its target a note was on average, whichever way.
    mean_cents
        Where the notes lay on average, positive when sharp.
    """

    day: date
    held_notes: int
    off_cents: float
    mean_cents: float


def day_plot(sittings: Sequence[Sitting], *, title: str) -> Drawing:
    """Return sittings over time, the oldest at the left, with a line of their running mean."""
    ordered = sorted(sittings, key=lambda sitting: sitting.day)
    drawing = Drawing(WIDTH, _TOP + _HIGH + _BELOW, title=title, told=_told(ordered))
    highest = next(
        (h for h in (20.0, 40.0, 80.0, 160.0) if all(s.off_cents <= h for s in ordered)), 320.0
    )
    _ruled(drawing, highest)
    if not ordered:
        return drawing
    first, last = ordered[0].day, ordered[-1].day
    days = max((last - first).days, 1)
    places = [_x((sitting.day - first).days / days) for sitting in ordered]
    _dates(drawing, first, last)
    points = [(x, _y(s.off_cents, highest)) for x, s in zip(places, ordered, strict=True)]
    drawing.path([(x, y) for x, y in zip(places, _running(points), strict=True)], ink=INK)
    for point in points:
        drawing.ring(point, 2.6, ink=SOFT, filled=False)
    return drawing


def running_mean(values: Sequence[float], *, over: int = 5) -> list[float]:
    """Return the mean of each value and those before it, at most so many."""
    windows = (values[max(0, end - over) : end] for end in range(1, len(values) + 1))
    return [sum(window) / len(window) for window in windows]


def _running(points: Sequence[tuple[float, float]]) -> list[float]:
    return running_mean([y for _, y in points])


def _told(sittings: Sequence[Sitting]) -> str:
    if not sittings:
        return NO_DATES
    first, last = sittings[0], sittings[-1]
    days, off = (first.day, last.day), (first.off_cents, last.off_cents)
    return sittings_told(len(sittings), days=days, off_cents=off)


def _ruled(drawing: Drawing, highest: float) -> None:
    drawing.area((_LEFT, _y(10.0, highest)), (WIDTH, _y(0.0, highest)), ink=WINDOW)
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        y = _y(share * highest, highest)
        drawing.line((_LEFT, y), (WIDTH, y), ink=RULE if share == 0.0 else FAINT)
        drawing.text(rounded(share * highest), (_LEFT - 6.0, y + 4.0), ink=SOFT, anchor="end")


def _dates(drawing: Drawing, first: date, last: date) -> None:
    bottom = _TOP + _HIGH
    count = min(4, max(1, (last - first).days))
    for place in range(count + 1):
        share = place / count
        day = first + timedelta(days=round(share * (last - first).days))
        anchor = {0: "start", count: "end"}.get(place, "middle")
        drawing.line((_x(share), bottom), (_x(share), bottom + 4.0))
        drawing.text(day.isoformat(), (_x(share), bottom + 17.0), ink=SOFT, anchor=anchor)
    drawing.text(say("cents off target"), (0.0, 10.0), ink=SOFT)


def _x(share: float) -> float:
    return _LEFT + 6.0 + share * (WIDTH - _LEFT - 12.0)


def _y(cents: float, highest: float) -> float:
    return _TOP + (1.0 - min(cents, highest) / highest) * _HIGH
