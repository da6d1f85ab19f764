"""From measured offsets to a reversible remedy and a common pitch."""

import numpy as np
import pytest

from intonation.acoustics.alterations import Alteration, altered
from intonation.instruments.library import instrument_named
from intonation.workshop.compass import Compass, compass_of
from intonation.workshop.consort import ConsortMember, common_pitch
from intonation.workshop.proposal import propose


@pytest.fixture(scope="module")
def compass() -> Compass:
    return compass_of(instrument_named("alto"))


def test_a_too_large_hole_is_brought_back_by_taping_it(compass: Compass) -> None:
    too_large = Alteration(work="enlarge a hole", amount_mm=0.9, hole="4")
    proposal = propose(compass, compass.effect([too_large]))
    assert proposal.before_window_cents > 20.0
    assert proposal.reaches_window
    assert [(a.work, a.hole) for a in proposal.alterations] == [("tape over part of a hole", "4")]
    assert all(alteration.reversible for alteration in proposal.alterations)


def test_nothing_is_proposed_for_an_instrument_that_breath_can_hold(compass: Compass) -> None:
    proposal = propose(compass, np.linspace(-9.0, 9.0, len(compass.midi)))
    assert proposal.alterations == ()
    assert proposal.reaches_window


def test_a_hopeless_instrument_is_called_so(compass: Compass) -> None:
    scattered = np.where(np.arange(len(compass.midi)) % 2 == 0, 40.0, -40.0)
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
