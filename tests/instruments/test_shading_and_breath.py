"""Shading, thumb slit and breath slopes: the stored figures against the model and the source."""

from itertools import pairwise

import pytest

from intonation.instruments.breath import breath_slopes
from intonation.instruments.library import instrument_named
from intonation.instruments.other_systems import SYSTEMS, in_system
from intonation.pitch.notes import midi_of_note
from tests.support.shading_from_model import shading_cents, slit_cents

ALTO = instrument_named("alto")

# D. Chin & G. Xia, arXiv:2107.08727, six-hole duct flute in the second register, re-analysed:
# cents and dB per doubling of the breath pressure.
SECOND_REGISTER_CENTS = (26.9, 29.7, 31.1, 26.6, 25.3, 20.0, 36.4)
SECOND_REGISTER_DB = (2.3, 4.5)


def test_shading_only_ever_flattens_and_more_shading_flattens_more() -> None:
    for midi in ALTO.notes_midi:
        for shading in ALTO.shadings(midi):
            assert all(after < before < 0.0 for before, after in pairwise(shading.cents))


def test_only_open_holes_are_offered_for_shading() -> None:
    for midi in ALTO.notes_midi:
        fingering = ALTO.fingering(midi)
        assert fingering is not None
        assert {s.hole for s in ALTO.shadings(midi)} <= set(fingering.open_fingers)


@pytest.mark.parametrize("system", SYSTEMS)
def test_only_open_holes_are_shaded_whatever_the_fingering_system(system: str) -> None:
    # The figures are those of the baroque fingering: a note that another system plays otherwise
    # has none, and most notes have some.
    alto = in_system(ALTO, system)
    for midi in alto.notes_midi:
        fingering = alto.fingering(midi)
        assert fingering is not None
        assert {s.hole for s in alto.shadings(midi)} <= set(fingering.open_fingers)
        if fingering != ALTO.fingering(midi):
            assert alto.shadings(midi) == ()
            assert alto.slit(midi) is None
    assert sum(bool(alto.shadings(midi)) for midi in alto.notes_midi) > 10


def test_the_first_open_hole_is_the_coarse_one() -> None:
    # Common practice, no source: the hole next to the closed ones moves the note most.
    for name in ("C5", "D5", "E5", "C6", "D6"):
        first, second, *_ = ALTO.shadings(midi_of_note(name))
        assert first.cents[-1] < 1.9 * second.cents[-1]


@pytest.mark.parametrize("name", ["C5", "D5", "G5", "C6", "E6"])
def test_stored_shading_is_what_the_acoustic_model_gives(name: str) -> None:
    midi = midi_of_note(name)
    entry = ALTO.chart_note(midi)
    assert entry is not None
    for shading in ALTO.shadings(midi):
        computed = shading_cents(entry.step, entry.fingering, shading.hole)
        assert shading.cents == pytest.approx(computed, rel=0.05, abs=0.5)


@pytest.mark.parametrize("name", ["A5", "C6", "D6", "F6"])
def test_stored_thumb_slits_are_what_the_acoustic_model_gives(name: str) -> None:
    midi = midi_of_note(name)
    entry, slit = ALTO.chart_note(midi), ALTO.slit(midi)
    assert entry is not None
    assert slit is not None
    computed = slit_cents(entry.step, entry.fingering)
    assert (slit.narrow_cents, slit.wide_cents) == pytest.approx(computed, abs=0.5)


def test_low_notes_have_no_thumb_slit() -> None:
    assert ALTO.slit(midi_of_note("G4")) is None
    assert not ALTO.in_second_register(midi_of_note("G5"))
    assert ALTO.in_second_register(midi_of_note("A5"))


def test_the_common_second_register_slope_follows_the_published_measurement() -> None:
    mean_cents = sum(SECOND_REGISTER_CENTS) / len(SECOND_REGISTER_CENTS)
    low, high = (mean_cents / db for db in reversed(SECOND_REGISTER_DB))
    assert low < breath_slopes().usual(second_register=True) < high


@pytest.mark.parametrize(("own", "used"), [(None, 6.0), (4.5, 4.5), (0.2, 6.0), (-5.0, 6.0)])
def test_an_implausible_slope_of_ones_own_is_not_believed(own: float | None, used: float) -> None:
    assert breath_slopes().believed(own, second_register=False) == used
