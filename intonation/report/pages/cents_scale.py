"""The cents axis of a printed drawing: flat at the left, sharp at the right."""

from collections.abc import Iterable
from dataclasses import dataclass

from intonation.language import say
from intonation.report.cells import signed
from intonation.report.pages.drawing import Drawing
from intonation.report.pages.paper import FAINT, INK, RULE, SOFT, WINDOW

WINDOW_CENTS = 10.0
"""Half of the window that breath can cover (common practice, no source)."""

_SPANS = {15.0: 5.0, 30.0: 10.0, 60.0: 20.0, 120.0: 40.0}


@dataclass(frozen=True, slots=True)
class CentsScale:
    """From cents to places across a drawing."""

    left: float
    right: float
    span_cents: float

    def x(self, cents: float) -> float:
        """Return the place of a deviation; beyond the span it is the edge."""
        inside = min(max(cents, -self.span_cents), self.span_cents)
        share = (inside + self.span_cents) / (2.0 * self.span_cents)
        return self.left + share * (self.right - self.left)

    @property
    def ticks(self) -> tuple[float, ...]:
        """The cents that have a number."""
        step = _SPANS[self.span_cents]
        count = int(self.span_cents // step)
        return tuple(step * place for place in range(-count, count + 1))

    def rule(self, drawing: Drawing, *, top: float, bottom: float) -> None:
        """Draw window, grid and numbers between two heights; the numbers stand under them."""
        drawing.area((self.x(-WINDOW_CENTS), top), (self.x(WINDOW_CENTS), bottom), ink=WINDOW)
        for cents in self.ticks:
            ink, wide = (INK, 1.0) if cents == 0.0 else (FAINT, 0.6)
            drawing.line((self.x(cents), top), (self.x(cents), bottom), ink=ink, wide=wide)
            drawing.text(
                signed(cents, 0), (self.x(cents), bottom + 14.0), ink=SOFT, anchor="middle"
            )
        drawing.line((self.left, bottom), (self.right, bottom), ink=RULE)
        drawing.text(say("flat"), (self.left, bottom + 28.0), ink=SOFT)
        drawing.text("cents", (self.x(0.0), bottom + 28.0), ink=SOFT, anchor="middle")
        drawing.text(say("sharp"), (self.right, bottom + 28.0), ink=SOFT, anchor="end")


def span_for(cents: Iterable[float]) -> float:
    """Return how far an axis has to reach for some deviations."""
    farthest = max((abs(value) for value in cents), default=0.0)
    return next((span for span in _SPANS if span >= 30.0 and farthest <= span), max(_SPANS))
