"""From measured offsets to the likely fault, a reversible remedy and a common pitch."""

from dataclasses import replace

import numpy as np
import pytest

from intonation.acoustics.alterations import Alteration, altered
from intonation.acoustics.geometry import BorePoint, Geometry
from intonation.acoustics.library import alto_geometry
from intonation.workshop.causes import Cause, candidate_causes, look_alike, rank_causes
from intonation.workshop.compass import Compass
from intonation.workshop.consort import ConsortMember, common_pitch
from intonation.workshop.proposal import propose
from tests.support.recorder_fingerings import CHART, open_fractions

MIDI = tuple(CHART)
FINGERINGS = tuple(open_fractions(closed) for closed in CHART.values())
NOISE_CENTS = 4.0


@pytest.fixture(scope="module")
def compass() -> Compass:
    return Compass(alto_geometry(), MIDI, FINGERINGS)


@pytest.fixture(scope="module")
def causes(compass: Compass) -> tuple[Cause, ...]:
    return candidate_causes(compass)


def another_maker(rng: np.random.Generator) -> Geometry:
    """An instrument whose dimensions differ from the model's; magnitudes are invented."""
    geometry = alto_geometry()
    bore = (BorePoint(p.position_mm, p.radius_mm * rng.normal(1, 0.004)) for p in geometry.bore)
    holes = (
        replace(
            hole,
            position_mm=hole.position_mm + rng.normal(0, 1.5),
            diameter_mm=hole.diameter_mm * rng.normal(1, 0.05),
        )
        for hole in geometry.holes
    )
    window_mm = geometry.window_mm * rng.normal(1, 0.05)
    return replace(geometry, window_mm=window_mm, bore=tuple(bore), holes=tuple(holes))


def faults(zones: list[tuple[float, float]]) -> list[tuple[str, list[Alteration]]]:
    """Eight holes (both of a pair together) and the bore zones, at a small first size."""
    single = [(h, [Alteration(work="enlarge a hole", amount_mm=0.05, hole=h)]) for h in "012345"]
    pairs = [
        (h, [Alteration(work="enlarge a hole", amount_mm=0.05, hole=h + side) for side in "ab"])
        for h in "67"
    ]
    bore = [
        (f"{a:.0f}", [Alteration(work="line the bore", amount_mm=0.05, from_mm=a, to_mm=b)])
        for a, b in zones
    ]
    return [*single, *pairs, *bore]


def place_of(cause: Cause) -> str:
    if cause.key == "bore":
        return f"{cause.from_mm:.0f}"
    return (cause.hole or "")[:1] if cause.key == "hole size" else cause.key


def offsets_from(maker: Compass, fault: list[Alteration], size: float) -> np.ndarray:
    largest = np.nanmax(np.abs(maker.effect(fault)))
    grown = [replace(a, amount_mm=a.amount_mm * size / largest) for a in fault]
    return maker.effect(grown)


@pytest.mark.parametrize(("size_cents", "named_first"), [(20.0, 0.92), (12.0, 0.80)])
def test_a_single_fault_is_named_first(
    causes: tuple[Cause, ...], size_cents: float, named_first: float
) -> None:
    # Aimed at 95 % and 85 % over hundreds of faults; this smaller draw allows for chance.
    rng = np.random.default_rng(20)
    zones = [(c.from_mm, c.to_mm) for c in causes if c.key == "bore"]
    right = []
    for _ in range(4):
        maker = Compass(another_maker(rng), MIDI, FINGERINGS)
        for place, fault in faults(zones):
            noise = rng.normal(0, NOISE_CENTS, len(MIDI)) + rng.normal(0, 10)
            measured = offsets_from(maker, fault, rng.choice([-1, 1]) * size_cents) + noise
            covariance = NOISE_CENTS**2 * np.eye(len(MIDI))
            first = rank_causes(causes, MIDI, measured, covariance)[0]
            right.append(place_of(first.cause) == place)
    assert np.mean(right) >= named_first


def test_an_instrument_without_fault_is_not_blamed(causes: tuple[Cause, ...]) -> None:
    rng = np.random.default_rng(3)
    covariance = NOISE_CENTS**2 * np.eye(len(MIDI))
    for _ in range(20):
        measured = rng.normal(0, NOISE_CENTS, len(MIDI)) + 30.0
        ranked = rank_causes(causes, MIDI, measured, covariance)
        assert ranked[0].cause.key == "none" or ranked[0].probability < 0.7


def test_missing_notes_widen_the_answer_and_never_break_it(causes: tuple[Cause, ...]) -> None:
    measured = np.full(len(MIDI), np.nan)
    measured[:2] = 5.0, -5.0
    ranked = rank_causes(causes, MIDI, measured, np.eye(len(MIDI)))
    assert max(entry.probability for entry in ranked) < 0.5


def test_probabilities_are_shares_of_one(causes: tuple[Cause, ...]) -> None:
    ranked = rank_causes(causes, MIDI, np.zeros(len(MIDI)), np.eye(len(MIDI)))
    assert sum(entry.probability for entry in ranked) == pytest.approx(1.0)


def test_two_holes_of_a_pair_look_more_alike_than_holes_of_two_fingers(
    causes: tuple[Cause, ...],
) -> None:
    by_hole = {c.hole: c for c in causes if c.key == "hole size"}
    assert not look_alike(by_hole["2"], by_hole["5"], MIDI)
    assert look_alike(by_hole["2"], by_hole["2"], MIDI)


def test_a_too_large_hole_is_brought_back_by_taping_it(compass: Compass) -> None:
    too_large = Alteration(work="enlarge a hole", amount_mm=0.9, hole="4")
    proposal = propose(compass, compass.effect([too_large]))
    assert proposal.before_window_cents > 20.0
    assert proposal.reaches_window
    assert [(a.work, a.hole) for a in proposal.alterations] == [("tape over part of a hole", "4")]
    assert all(alteration.reversible for alteration in proposal.alterations)


def test_nothing_is_proposed_for_an_instrument_that_breath_can_hold(compass: Compass) -> None:
    proposal = propose(compass, np.linspace(-9.0, 9.0, len(MIDI)))
    assert proposal.alterations == ()
    assert proposal.reaches_window


def test_a_hopeless_instrument_is_called_so(compass: Compass) -> None:
    scattered = np.where(np.arange(len(MIDI)) % 2 == 0, 40.0, -40.0)
    assert not propose(compass, scattered).reaches_window


def test_the_prediction_is_what_the_altered_instrument_plays(compass: Compass) -> None:
    alteration = Alteration(work="pull the head joint", amount_mm=1.0)
    predicted = compass.cents(compass.geometry) + compass.effect([alteration])
    played = compass.cents(altered(compass.geometry, alteration))
    np.testing.assert_allclose(predicted, played)


def test_a_consort_meets_at_its_flattest_instrument() -> None:
    flat = ConsortMember("tenor", (60, 62), (-8.0, -8.0), (-4.0, -4.0))
    sharp = ConsortMember("alto", (65, 67), (4.0, 4.0), (-6.0, -6.0))
    meeting = common_pitch([flat, sharp], a4_hz=440.0)
    assert meeting.a4_hz == pytest.approx(440.0 * 2 ** (-8.0 / 1200.0))
    assert meeting.pull_mm == (0.0, 2.0)
    assert meeting.apart == ()


def test_a_head_is_never_pulled_further_than_two_millimetres() -> None:
    flat = ConsortMember("tenor", (60,), (-40.0,), (-4.0,))
    sharp = ConsortMember("alto", (60,), (20.0,), (-6.0,))
    meeting = common_pitch([flat, sharp], a4_hz=440.0)
    assert meeting.pull_mm == (0.0, 2.0)
    assert meeting.apart == ((60, 48.0),)
