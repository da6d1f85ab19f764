"""A take as a whole: means, spreads, worst first. Figures checked against numpy."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.assessment.bands import band
from intonation.assessment.summing_up import summed_up
from tests.support.held_notes import scored_note


@given(st.lists(st.tuples(st.integers(65, 91), st.floats(-40.0, 40.0)), min_size=1, max_size=30))
def test_every_note_has_its_mean_spread_and_count(played: list[tuple[int, float]]) -> None:
    summary = summed_up(scored_note(midi, cents) for midi, cents in played)
    assert sum(note.count for note in summary.notes) == len(played)
    for note in summary.notes:
        cents = [c for midi, c in played if midi == note.midi]
        assert note.mean_cents == pytest.approx(np.mean(cents), abs=1e-6)
        spread = np.std(cents, ddof=1) if len(cents) > 1 else 0.0
        assert note.spread_cents == pytest.approx(spread, abs=1e-6)


def test_the_note_furthest_from_its_target_comes_first_and_next() -> None:
    summary = summed_up([scored_note(69, 3.0), scored_note(72, -14.0), scored_note(74, 8.0)])
    assert [note.midi for note in summary.notes] == [72, 74, 69]
    assert summary.practise_next_midi == 72


def test_an_unsteady_note_is_worse_than_a_steady_one_with_the_same_mean() -> None:
    summary = summed_up(
        [scored_note(69, 2.0), scored_note(69, 2.0), scored_note(72, 22.0), scored_note(72, -18.0)]
    )
    assert summary.practise_next_midi == 72


def test_an_empty_take_has_nothing_to_practise() -> None:
    assert summed_up([]).notes == ()
    assert summed_up([]).practise_next_midi is None


@pytest.mark.parametrize(
    ("cents", "word"),
    [(0.0, "excellent"), (-5.0, "excellent"), (9.0, "good"), (-20.0, "noticeable")],
)
def test_a_deviation_falls_into_its_band(cents: float, word: str) -> None:
    assert band(cents) == word


def test_beyond_a_quarter_of_a_semitone_listeners_hear_a_note_as_out_of_tune() -> None:
    # P. Larrouy-Maestri (2018), abstract: about 25 cents in melodies.
    assert band(25.1) == band(-25.1) == "out of tune"
