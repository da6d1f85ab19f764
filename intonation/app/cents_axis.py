"""A deviation as a mark on a cents axis, drawn in text characters like a printed figure."""

from dataclasses import dataclass

SPAN_CENTS = 50
"""The axis reaches from 50 cents flat to 50 cents sharp."""

WINDOW_CENTS = 10
"""Half of the window that counts as in tune and that breath can cover (common practice)."""

_LABELS = (-40, -20, 0, 20, 40)


@dataclass(frozen=True, slots=True)
class CentsAxis:
    """An axis of some width in characters; 0 cents stands in the middle."""

    width: int

    def column(self, cents: float) -> int:
        """Return the column of a deviation; beyond the span it is the outermost column."""
        inside = min(max(cents, -SPAN_CENTS), SPAN_CENTS)
        return round((inside + SPAN_CENTS) / (2 * SPAN_CENTS) * (self.width - 1))

    def rule(self) -> str:
        """Return the ruled line: a tick every 10 cents, heavy within the window."""
        line = ["─"] * self.width
        for cents in range(-SPAN_CENTS, SPAN_CENTS + 1, 10):
            line[self.column(cents)] = "┴"
        heavy = slice(self.column(-WINDOW_CENTS), self.column(WINDOW_CENTS) + 1)
        line[heavy] = ["━" if character == "─" else "┻" for character in line[heavy]]
        return "".join(line)

    def numbers(self) -> str:
        """Return the line of numbers under the rule."""
        line = [" "] * (self.width + 3)
        for cents in _LABELS:
            text = f"−{-cents}" if cents < 0 else str(cents)
            start = self.column(cents) - len(text) // 2
            line[start : start + len(text)] = text
        return "".join(line).rstrip()

    def mark(self, cents: float, *, spread_cents: float | None = None) -> str:
        """Return the line with the mark, and the spread to both sides of it where there is one."""
        line = [" "] * self.width
        centre, reach = self.column(cents), self._columns(spread_cents or 0.0)
        if reach:
            left, right = max(centre - reach, 0), min(centre + reach, self.width - 1)
            line[left : right + 1] = ["├", *"─" * (right - left - 1), "┤"]
        line[centre] = _symbol(cents)
        return "".join(line).rstrip()

    def _columns(self, cents: float) -> int:
        return round(cents / (2 * SPAN_CENTS) * (self.width - 1))


def _symbol(cents: float) -> str:
    if abs(cents) <= SPAN_CENTS:
        return "◆"
    return "▶" if cents > 0 else "◀"
