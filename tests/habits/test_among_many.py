import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import norm
from statsmodels.stats.multitest import multipletests

from intonation.habits.among_many import CHANCE_AT_MOST, beyond_chance

CHANGES = st.lists(st.tuples(st.floats(-40, 40), st.floats(0.5, 20)), min_size=1, max_size=40)


@given(CHANGES)
def test_the_changes_told_are_those_of_a_statistics_library(
    changes: list[tuple[float, float]],
) -> None:
    """Against statsmodels' ``multipletests``, method of Benjamini and Hochberg (1995)."""
    sizes, halves = np.array(changes).T
    chances = 2 * norm.sf(np.abs(sizes) / halves * norm.isf(0.05))
    limits = CHANCE_AT_MOST * np.arange(1, len(changes) + 1) / len(changes)
    assume(np.abs(np.sort(chances) - limits).min() > 1e-9)
    told = multipletests(chances, alpha=CHANCE_AT_MOST, method="fdr_bh")[0]
    assert beyond_chance(changes) == tuple(told)


def test_a_change_that_would_do_alone_is_not_told_among_thirty() -> None:
    assert beyond_chance([(5.0, 4.0)]) == (True,)
    assert not any(beyond_chance([(5.0, 4.0), *[(0.5, 4.0)] * 29]))


def test_nothing_is_told_of_nothing() -> None:
    assert beyond_chance([]) == ()
