"""Cents axes as styled text: the ruled axis, and lines of marks above it."""

from textual.content import Content

from intonation.app import words
from intonation.app.cents_axis import CentsAxis
from intonation.app.printing.inks import RULE, SOFT, deviation_ink

WIDEST_AXIS = 81
_SIDE = 7


def axis_for(width: int, *, beside: int = 2 * _SIDE) -> CentsAxis:
    """Return an axis that fits a page of some width, beside other print of some width.

    The width is one more than a multiple of ten, so that every tick stands in its exact column.
    """
    room = min(width - beside, WIDEST_AXIS)
    return CentsAxis(max(21, room - (room - 1) % 10))


def mark_line(axis: CentsAxis, cents: float, *, spread_cents: float | None = None) -> Content:
    """Return the line with the mark of a deviation."""
    mark = axis.mark(cents, spread_cents=spread_cents)
    return Content.assemble(" " * _SIDE, (mark, deviation_ink(cents)))


def axis_lines(axis: CentsAxis) -> Content:
    """Return the ruled axis with the words at its ends, and the numbers under it."""
    flat, sharp = f"{words.FLAT:>{_SIDE - 2}}  ", f"  {words.SHARP}"
    return Content.assemble(
        (flat, SOFT), (axis.rule(), RULE), (sharp, SOFT), "\n", " " * _SIDE, (axis.numbers(), SOFT)
    )
