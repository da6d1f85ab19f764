"""A small cents axis for one part of a deviation, with its mark and its interval."""

from collections.abc import Iterable
from dataclasses import dataclass

from intonation.diagnosis.parts import Interval

_SPANS = (20, 30, 40, 50)
NARROWEST = 11


@dataclass(frozen=True, slots=True)
class PartAxis:
    """An axis of an odd width in characters; 0 cents stands in the middle.

    Parameters
    ----------
    width
        In characters.
    span_cents
        How far it reaches to both sides.
    """

    width: int
    span_cents: int

    @classmethod
    def fitting(cls, estimates: Iterable[Interval], *, width: int) -> "PartAxis":
        """Return the axis of some width on which all estimates have their place."""
        farthest = max((abs(one.mean) for one in estimates), default=0.0)
        span = next((span for span in _SPANS if span >= farthest + 2.0), _SPANS[-1])
        return cls(max(width, NARROWEST), span)

    def column(self, cents: float) -> int:
        """Return the column of a deviation; beyond the span it is the outermost column."""
        inside = min(max(cents, -self.span_cents), self.span_cents)
        return round((inside + self.span_cents) / (2 * self.span_cents) * (self.width - 1))

    def mark(self, part: Interval) -> str:
        """Return the line with the mark, its interval, and the line of zero behind them."""
        line = [" "] * self.width
        line[self.width // 2] = "│"
        left, right = self.column(part.low), self.column(part.high)
        if right > left:
            line[left : right + 1] = ["├", *"─" * (right - left - 1), "┤"]
        line[self.column(part.mean)] = self._symbol(part.mean)
        return "".join(line)

    def rule(self) -> str:
        """Return the ruled line with the numbers of its ends, and a tick in the middle."""
        line = ["─"] * self.width
        line[self.width // 2] = "┴"
        line[:3] = f"−{self.span_cents}"
        line[-3:] = f"+{self.span_cents}"
        return "".join(line)

    def _symbol(self, cents: float) -> str:
        if abs(cents) <= self.span_cents:
            return "◆"
        return "▶" if cents > 0 else "◀"
