"""The fault of an instrument is named from how its notes lie, and what cannot be known is said."""

import numpy as np
import pytest

from intonation.instruments.library import instrument_named
from intonation.words.causes import look_alikes_line
from intonation.workshop.causes import rank_causes
from intonation.workshop.compass import Compass, compass_of
from intonation.workshop.faults import Cause, candidate_causes
from tests.benchmarks.cause_accuracy import (
    NOISE_CENTS,
    independent_offsets,
    measured,
    places_of,
)

KNOWN = NOISE_CENTS**2 * np.eye(26)


@pytest.fixture(scope="module")
def compass() -> Compass:
    return compass_of(instrument_named("alto"))


@pytest.fixture(scope="module")
def causes(compass: Compass) -> tuple[Cause, ...]:
    return candidate_causes(compass)


def pattern_of(causes: tuple[Cause, ...], kind: str, hole: str | None = None) -> np.ndarray:
    (found,) = [cause for cause in causes if (cause.kind, cause.hole) == (kind, hole)]
    return np.asarray(found.pattern)


@pytest.mark.parametrize(("size_cents", "named_first"), [(20.0, 0.95), (12.0, 0.78)])
def test_a_fault_is_named_first_where_another_library_and_other_makers_hold_the_truth(
    compass: Compass, causes: tuple[Cause, ...], size_cents: float, named_first: float
) -> None:
    # openwind 0.12.4 with other dimensions, end corrections, losses and thumb slits. Aimed at 95 %
    # and 85 %; over 384 faults it was 99 % and 87 %, and this smaller draw allows for chance.
    rng = np.random.default_rng(6)
    right = [
        place in places_of(rank_causes(causes, compass.midi, measured(rng, effect), KNOWN)[0])
        for place, effect in independent_offsets(size_cents)
    ]
    assert np.mean(right) >= named_first


def test_two_faults_at_once_are_both_named(compass: Compass, causes: tuple[Cause, ...]) -> None:
    wide = 24.0 * pattern_of(causes, "octaves")
    too_small = -18.0 * pattern_of(causes, "hole size", "4")
    noise = np.random.default_rng(4).normal(0, NOISE_CENTS, len(compass.midi))
    first, second = rank_causes(causes, compass.midi, wide + too_small + noise, KNOWN)[:2]
    assert {first.cause.kind, second.cause.kind} == {"octaves", "hole size"}
    assert min(first.probability, second.probability) > 0.8
    for entry in (first, second):
        true_size = 24.0 if entry.cause.kind == "octaves" else -18.0
        assert entry.low_cents - 2.0 < true_size < entry.high_cents + 2.0


def test_an_instrument_without_fault_is_not_blamed(
    compass: Compass, causes: tuple[Cause, ...]
) -> None:
    rng = np.random.default_rng(3)
    blamed = 0
    for _ in range(20):
        offsets = rng.normal(0, NOISE_CENTS, len(compass.midi)) + 30.0
        first = rank_causes(causes, compass.midi, offsets, KNOWN)[0]
        blamed += first.cause.kind != "none" and first.probability > 0.7
    assert blamed <= 1


def test_overall_pitch_and_the_players_slope_are_nobodys_fault(
    compass: Compass, causes: tuple[Cause, ...]
) -> None:
    sloping = 25.0 + np.linspace(-15.0, 15.0, len(compass.midi))
    first = rank_causes(causes, compass.midi, sloping, KNOWN)[0]
    assert first.cause.kind == "none"


def test_a_leak_is_never_blamed_for_flat_notes(compass: Compass, causes: tuple[Cause, ...]) -> None:
    flat = -20.0 * pattern_of(causes, "leak", "2")
    ranked = rank_causes(causes, compass.midi, flat, KNOWN)
    leaks = [entry for entry in ranked if (entry.cause.kind, entry.cause.hole) == ("leak", "2")]
    assert all(entry.probability < 0.05 for entry in leaks)


def test_missing_notes_widen_the_answer_and_never_break_it(causes: tuple[Cause, ...]) -> None:
    offsets = np.full(26, np.nan)
    offsets[:2] = 5.0, -5.0
    ranked = rank_causes(causes, tuple(range(65, 91)), offsets, np.eye(26))
    assert ranked[0].probability < 0.9
    assert len(ranked[0].look_alikes) > 5 or ranked[0].cause.kind == "none"


def test_what_cannot_be_told_apart_is_said_together(causes: tuple[Cause, ...]) -> None:
    # Only notes with holes 2 and up closed: a wider hole 4 and one further up draw the same.
    offsets = np.full(26, np.nan)
    offsets[[5, 6, 7, 8, 9]] = 0.0, 12.0, 8.0, 0.0, 0.0
    ranked = rank_causes(causes, tuple(range(65, 91)), offsets, np.eye(26))
    together = [{cause.kind for cause in (e.cause, *e.look_alikes)} for e in ranked]
    assert any({"hole size", "hole place"} <= kinds for kinds in together)


@pytest.mark.parametrize("hole", ["2", "5"])
def test_a_hole_too_large_and_one_too_near_the_window_are_told_together(
    compass: Compass, causes: tuple[Cause, ...], hole: str
) -> None:
    # The whole compass was measured, and still these two draw nearly the same.
    offsets = 15.0 * pattern_of(causes, "hole size", hole)
    first = rank_causes(causes, compass.midi, offsets, KNOWN)[0]
    together = {first.cause.kind, *(cause.kind for cause in first.look_alikes)}
    assert {"hole size", "hole place"} <= together
    assert "Cannot be told from" in look_alikes_line(first)


@pytest.mark.parametrize(
    ("kind", "hole", "rival"),
    [
        ("leak", "1", ("leak", "0")),
        ("hole size", "0", ("hole place", "0")),
        ("hole size", "4", ("hole place", "4")),
        ("octaves", None, ("head joint", None)),
    ],
)
def test_of_two_faults_that_are_hard_to_tell_apart_the_true_one_is_not_lost(
    compass: Compass,
    causes: tuple[Cause, ...],
    kind: str,
    hole: str | None,
    rival: tuple[str, str | None],
) -> None:
    rng = np.random.default_rng(8)
    pattern, kept = pattern_of(causes, kind, hole), []
    for _ in range(20):
        ranked = rank_causes(causes, compass.midi, measured(rng, 15.0 * pattern), KNOWN)
        first_two = [(c.kind, c.hole) for e in ranked[:2] for c in (e.cause, *e.look_alikes)]
        kept.append((kind, hole) in first_two)
        named = next(e for e in ranked if (e.cause.kind, e.cause.hole) == (kind, hole))
        against = [e for e in ranked if (e.cause.kind, e.cause.hole) == rival]
        assert all(e.tell_apart_midi for e in (named, *against) if e is not ranked[0])
    assert np.mean(kept) >= 0.9


def test_the_runner_up_comes_with_notes_that_would_decide(
    compass: Compass, causes: tuple[Cause, ...]
) -> None:
    ranked = rank_causes(causes, compass.midi, 8.0 * pattern_of(causes, "hole size", "4"), KNOWN)
    runner_up = next(entry for entry in ranked[1:] if entry.cause.kind != "none")
    assert runner_up.tell_apart_midi
    assert set(runner_up.tell_apart_midi) <= set(compass.midi)


def test_both_holes_of_a_pair_are_drawn_together(causes: tuple[Cause, ...]) -> None:
    # The notes whose first open hole is the pair move by both; the smaller alone moves half holes.
    pair, small = pattern_of(causes, "hole size", "6"), pattern_of(causes, "hole size", "6b")
    assert pair[4] > 0.7
    assert small[3] == 1.0


def test_progress_is_told_and_can_cancel(compass: Compass) -> None:
    shares: list[float] = []

    def stop(share: float) -> None:
        shares.append(share)
        if len(shares) == 3:
            raise InterruptedError

    with pytest.raises(InterruptedError):
        candidate_causes(compass, progress=stop)
    assert shares == sorted(shares)
    assert 0.0 < shares[0] < 0.2
