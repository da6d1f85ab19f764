"""Before and after an adjustment of the instrument."""

from dataclasses import replace

import numpy as np
import pytest

from intonation.diagnosis.comparison import compare, own_variance
from tests.support.worlds import adjusted


def test_large_changes_are_found_and_untouched_notes_are_not_accused() -> None:
    found = missed = 0
    for seed in range(60, 62):
        case = adjusted(seed)
        for note in compare(case.rows, before=case.before, after=case.after):
            truth = case.changes_cents[note.midi]
            assert truth != 0.0 or note.verdict != "changed"
            if abs(truth) >= 11.0:
                found += note.verdict == "changed"
                missed += note.verdict != "changed"
    assert found > 2 * missed


def test_changes_lie_in_their_intervals() -> None:
    inside = []
    for seed in range(64, 65):
        case = adjusted(seed)
        for note in compare(case.rows, before=case.before, after=case.after):
            truth = case.changes_cents[note.midi]
            inside.append(note.change.low <= truth <= note.change.high)
    assert np.mean(inside) >= 0.8


def test_plain_tones_of_the_whole_compass_cannot_tell() -> None:
    case = adjusted(70, chosen=False)
    notes = compare(case.rows, before=case.before, after=case.after)
    assert all(note.verdict == "cannot tell" for note in notes if note.error_cents > 2.5)
    assert np.mean([note.verdict == "cannot tell" for note in notes]) > 0.8


def test_a_warmer_day_changes_no_note() -> None:
    case = adjusted(71)
    warmer = [replace(r, cents=r.cents + 9.0 * r.session.startswith("on")) for r in case.rows]
    plain = compare(case.rows, before=case.before, after=case.after)
    shifted = compare(warmer, before=case.before, after=case.after)
    for one, other in zip(plain, shifted, strict=True):
        assert other.change.mean == pytest.approx(one.change.mean, abs=1.0)


def test_too_few_notes_in_common_are_not_compared() -> None:
    case = adjusted(72)
    kept = sorted({r.midi for r in case.rows if r.session == "off 1"})[:2]
    rows = [r for r in case.rows if r.session == "file" or r.midi in kept]
    assert compare(rows, before=case.before, after=case.after) == ()


def test_what_all_notes_share_is_no_error_of_one_note() -> None:
    # Independent variances plus a common one: the common part must drop out (closed form).
    own = np.array([1.0, 4.0, 2.0, 3.0, 5.0])
    assert own_variance(np.diag(own) + 100.0) == pytest.approx(own)


def test_a_note_that_is_far_off_on_both_sides_of_the_work_is_compared_as_well_as_the_others() -> (
    None
):
    case = adjusted(8101, chosen=False)
    worst = 71
    rows = [replace(row, cents=row.cents - 25.0 * (row.midi == worst)) for row in case.rows]
    changes = compare(rows, before=case.before, after=case.after)
    errors = {note.midi: note.error_cents for note in changes}
    assert errors[worst] < 1.5 * np.median(list(errors.values()))
