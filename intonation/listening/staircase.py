"""The plain staircase: harder after some right answers in a row, easier after each wrong one.

H. Levitt, JASA 49 (1971), 467: ``n`` right in a row to go down settles where a right answer has
probability ``p`` with ``pⁿ = ½``: 70.7 % for two, 79.4 % for three (Table I). It assumes nothing
about the listener, which makes it the independent check of the adaptive threshold; it needs about
twice as many answers and cannot tell the bias.
"""

import math
from dataclasses import dataclass, replace

FIRST_FACTOR, LATER_FACTOR = 2.0, math.sqrt(2.0)
REVERSALS_TO_FINER_STEPS = 4
"""Steps by a factor of 2 until the fourth reversal, then by 1.41 (common practice of laboratories,
no source)."""

FEWEST_REVERSALS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Staircase:
    """Where a staircase stands.

    Parameters
    ----------
    step_cents
        Size of the deviation to present next.
    right_to_go_down
        How many right answers in a row make it harder.
    smallest_cents, largest_cents
        Bounds of the step.
    finer_factor
        Factor of the steps after the first reversals.
    right_in_row
        Right answers since the last change or wrong answer.
    going_down
        Direction of the last change; None before the first.
    reversals_cents
        The steps at which the direction turned.
    """

    step_cents: float
    right_to_go_down: int = 2
    smallest_cents: float = 0.5
    largest_cents: float = 50.0
    finer_factor: float = LATER_FACTOR
    right_in_row: int = 0
    going_down: bool | None = None
    reversals_cents: tuple[float, ...] = ()


def after_answer(stairs: Staircase, *, right: bool) -> Staircase:
    """Return where the staircase stands after one more answer."""
    in_row = stairs.right_in_row + 1 if right else 0
    if right and in_row < stairs.right_to_go_down:
        return replace(stairs, right_in_row=in_row)
    turned = stairs.going_down is not None and stairs.going_down != right
    reversals = stairs.reversals_cents + ((stairs.step_cents,) if turned else ())
    early = len(reversals) < REVERSALS_TO_FINER_STEPS
    factor = FIRST_FACTOR if early else stairs.finer_factor
    moved = stairs.step_cents / factor if right else stairs.step_cents * factor
    return replace(
        stairs,
        step_cents=min(max(moved, stairs.smallest_cents), stairs.largest_cents),
        right_in_row=0,
        going_down=right,
        reversals_cents=reversals,
    )


def settled_cents(stairs: Staircase) -> float | None:
    """Return where the staircase has settled: the geometric mean of the last even reversals.

    None before there are six after the coarse steps have ended.
    """
    later = stairs.reversals_cents[REVERSALS_TO_FINER_STEPS:]
    if len(later) < FEWEST_REVERSALS:
        return None
    even = later[len(later) % 2 :]
    return math.exp(sum(math.log(step) for step in even) / len(even))


def share_right_where_it_settles(right_to_go_down: int) -> float:
    """Return the probability of a right answer where such a staircase settles (Levitt, Table I)."""
    return float(0.5 ** (1.0 / right_to_go_down))
