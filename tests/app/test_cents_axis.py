from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from intonation.app.cents_axis import CentsAxis

WIDTHS = st.integers(2, 12).map(lambda tens: 10 * tens + 1)


@given(WIDTHS, st.floats(-200, 200), st.floats(-200, 200))
def test_a_sharper_note_never_stands_further_left(width: int, one: float, other: float) -> None:
    axis = CentsAxis(width)
    low, high = sorted((one, other))
    assert axis.column(low) <= axis.column(high)


@given(WIDTHS, st.floats(-200, 200), st.floats(0, 60))
def test_a_mark_and_its_spread_stay_on_the_axis(width: int, cents: float, spread: float) -> None:
    line = CentsAxis(width).mark(cents, spread_cents=spread)
    assert len(line) <= width
    assert sum(line.count(symbol) for symbol in "◆◀▶") == 1


@given(WIDTHS)
def test_the_tick_of_zero_is_in_the_middle_and_ticks_lie_even(width: int) -> None:
    axis = CentsAxis(width)
    assert axis.column(0.0) == (width - 1) // 2
    ticks = [axis.column(cents) for cents in range(-50, 51, 10)]
    assert len({after - before for before, after in pairwise(ticks)}) == 1


def test_a_note_beyond_the_axis_points_outwards() -> None:
    assert CentsAxis(41).mark(73.0).endswith("▶")
    assert CentsAxis(41).mark(-73.0).startswith("◀")


def test_the_number_under_the_rule_stands_under_its_tick() -> None:
    axis = CentsAxis(61)
    assert axis.numbers()[axis.column(0.0)] == "0"
    assert axis.numbers()[axis.column(20.0) - 1 :].startswith("20")
