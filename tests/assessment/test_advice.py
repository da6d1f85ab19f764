"""The advice for a held note: right kind, right direction, right size, and safe for flat notes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.assessment.advice import Advice
from intonation.assessment.advising import advise
from intonation.assessment.neighbours import usual_level_db
from intonation.assessment.remedies import shading_remedies
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.pitch.notes import midi_of_note
from intonation.words.advice import what_to_do
from tests.support.held_notes import scored_note


def advice_for(
    note: str, cents: float, *, instrument: str = "alto", cents_per_db: float | None = None
) -> Advice:
    played = scored_note(
        midi_of_note(note), cents, instrument=instrument, cents_per_db=cents_per_db
    )
    return advise(played, instrument=instrument_named(instrument))


every_note = st.sampled_from(INSTRUMENT_NAMES).flatmap(
    lambda name: st.tuples(st.just(name), st.sampled_from(instrument_named(name).notes_midi))
)
slopes = st.none() | st.floats(-40.0, 40.0)
drifts = st.floats(-20.0, 20.0)


@given(place=every_note, cents=st.floats(-60.0, -1e-6), slope=slopes, drift=drifts)
def test_a_flat_note_is_never_shaded(
    place: tuple[str, int], cents: float, slope: float | None, drift: float
) -> None:
    name, midi = place
    played = scored_note(midi, cents, instrument=name, cents_per_db=slope, drift_cents_per_s=drift)
    advice = advise(played, instrument=instrument_named(name))
    assert advice.remedy != "shading"
    assert advice.predicted_cents >= 0.0
    assert advice.breath_db is None or advice.breath_db > 0.0


@given(place=every_note, wanted_cents=st.floats(0.0, 60.0))
def test_shading_is_not_even_weighed_for_a_flat_note(
    place: tuple[str, int], wanted_cents: float
) -> None:
    instrument = instrument_named(place[0])
    assert list(shading_remedies(wanted_cents, instrument=instrument, midi=place[1])) == []


@given(place=every_note, cents=st.floats(1e-6, 60.0), slope=slopes)
def test_no_advice_makes_a_sharp_note_sharper(
    place: tuple[str, int], cents: float, slope: float | None
) -> None:
    name, midi = place
    played = scored_note(midi, cents, instrument=name, cents_per_db=slope)
    advice = advise(played, instrument=instrument_named(name))
    assert advice.predicted_cents <= 0.0
    assert advice.breath_db is None or advice.breath_db < 0.0


@given(place=every_note, cents=st.floats(-60.0, 60.0), slope=slopes)
def test_following_the_advice_brings_every_note_nearer(
    place: tuple[str, int], cents: float, slope: float | None
) -> None:
    name, midi = place
    played = scored_note(midi, cents, instrument=name, cents_per_db=slope)
    advice = advise(played, instrument=instrument_named(name))
    assert abs(cents + advice.predicted_cents) <= abs(cents)


@given(place=every_note, cents=st.floats(-60.0, 60.0), slope=slopes)
def test_breath_is_never_asked_for_more_than_ten_cents(
    place: tuple[str, int], cents: float, slope: float | None
) -> None:
    name, midi = place
    played = scored_note(midi, cents, instrument=name, cents_per_db=slope)
    advice = advise(played, instrument=instrument_named(name))
    if advice.remedy == "breath":
        assert abs(advice.predicted_cents) <= 10.0
        assert advice.breath_db is not None
        assert 0.0 < abs(advice.breath_db) <= 10.0 / 3.0


@pytest.mark.parametrize("cents", [-4.9, -2.0, 0.0, 4.9])
def test_a_note_within_five_cents_is_left_alone(cents: float) -> None:
    assert advice_for("C5", cents).remedy == "nothing"


@pytest.mark.parametrize("cents", [-10.0, -7.0, 6.0, 9.9])
def test_up_to_ten_cents_breath_is_enough(cents: float) -> None:
    advice = advice_for("C5", cents)
    assert advice.remedy == "breath"
    assert advice.predicted_cents == pytest.approx(-cents)


def test_breath_in_db_follows_the_players_own_slope() -> None:
    common, own = advice_for("A5", -8.0), advice_for("A5", -8.0, cents_per_db=4.0)
    assert common.breath_db == pytest.approx(1.0)
    assert own.breath_db == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("note", "cents", "hole", "fraction"),
    [
        # Ten to twelve cents on these notes are what half of the second or third open hole, or a
        # third of the second, gives in the model of the alto in this package.
        ("D5", 12.0, "4", 0.5),
        ("E5", 10.4, "3", 0.33),
    ],
)
def test_a_sharp_note_beyond_breath_is_shaded_at_an_easy_hole(
    note: str, cents: float, hole: str, fraction: float
) -> None:
    advice = advice_for(note, cents)
    assert (advice.remedy, advice.hole, advice.covered_fraction) == ("shading", hole, fraction)
    assert advice.predicted_cents == pytest.approx(-cents, abs=1.0)


def test_a_very_flat_fork_gets_the_sharper_fingering() -> None:
    advice = advice_for("Bb4", -22.0)
    assert (advice.remedy, advice.fingering) == ("fingering", "0 123 4-6-")


def test_a_flat_high_note_gets_a_wider_thumb_slit() -> None:
    advice = advice_for("F6", -20.0)
    assert (advice.remedy, advice.hole, advice.reason) == ("thumb", "0", "slit too narrow")


def test_a_flat_note_without_another_remedy_gets_breath_to_its_limit() -> None:
    advice = advice_for("C5", -25.0)
    assert (advice.remedy, advice.reason) == ("breath", "too flat for breath")
    assert advice.predicted_cents == 10.0


def test_a_sharp_lowest_note_has_no_hole_to_shade() -> None:
    advice = advice_for("F4", 20.0)
    assert (advice.remedy, advice.reason) == ("breath", "too sharp for breath")


def test_a_sharp_high_note_gets_a_narrower_thumb_slit() -> None:
    # Common practice, no source: high notes are sharp when the thumb opens too far.
    advice = advice_for("D6", 15.0)
    assert (advice.remedy, advice.reason) == ("thumb", "slit too wide")


def test_a_high_note_too_sharp_for_the_thumb_is_shaded_after_the_thumb_was_checked() -> None:
    advice = advice_for("D6", 30.0)
    assert (advice.remedy, advice.reason) == ("shading", "thumb first")


@pytest.mark.parametrize("note", ["F5", "G5", "A5"])
def test_a_note_flatter_than_breath_and_half_as_much_again_changes_its_fingering(note: str) -> None:
    # Common practice, no source: never correct more than 15 to 20 cents by breath alone.
    assert advice_for(note, -22.0).remedy == "fingering"
    assert advice_for(note, -14.0).remedy == "breath"


def test_a_wavering_note_is_to_be_steadied_before_anything_else() -> None:
    alto = instrument_named("alto")
    wavering = scored_note(74, 12.0, sd_cents=9.0)
    assert advise(wavering, instrument=alto).remedy == "steadiness"
    clearly_sharp = scored_note(74, 30.0, sd_cents=9.0)
    assert advise(clearly_sharp, instrument=alto).remedy == "shading"


def test_vibrato_is_no_wavering() -> None:
    vibrato = scored_note(74, 12.0, sd_cents=9.0, vibrato_hz=5.0, vibrato_cents=13.0)
    assert advise(vibrato, instrument=instrument_named("alto")).remedy == "shading"


def test_a_note_that_went_flat_by_sinking_is_told_so() -> None:
    sinking = scored_note(72, -8.0, drift_cents_per_s=-5.0)
    level = scored_note(72, -8.0, drift_cents_per_s=0.2)
    alto = instrument_named("alto")
    assert advise(sinking, instrument=alto).reason == "sinking"
    assert advise(level, instrument=alto).reason == "within breath"


@pytest.mark.parametrize(
    ("note", "cents", "level_db", "reason"),
    [("F4", 8.0, -26.0, "soft already"), ("C5", -8.0, -14.0, "loud already")],
)
def test_breath_is_said_to_cost_tone_where_the_level_has_no_room_left(
    note: str, cents: float, level_db: float, reason: str
) -> None:
    alto = instrument_named("alto")
    played = scored_note(midi_of_note(note), cents, level_db=level_db)
    advice = advise(played, instrument=alto, usual_level_db=-20.0)
    assert (advice.remedy, advice.reason) == ("nothing", reason)
    assert "Leave the breath as it is" in what_to_do(advice)
    assert advise(played, instrument=alto).reason == "within breath"


def test_a_soft_sharp_note_is_shaded_rather_than_blown_still_softer() -> None:
    soft = scored_note(74, 9.0, level_db=-27.0)
    advice = advise(soft, instrument=instrument_named("alto"), usual_level_db=-20.0)
    assert (advice.remedy, advice.hole) == ("shading", "4")


@given(place=every_note, cents=st.floats(-60.0, 60.0), level_db=st.floats(-40.0, 0.0))
def test_whatever_the_level_no_advice_leads_away_from_the_target(
    place: tuple[str, int], cents: float, level_db: float
) -> None:
    name, midi = place
    played = scored_note(midi, cents, instrument=name, level_db=level_db)
    advice = advise(played, instrument=instrument_named(name), usual_level_db=-20.0)
    assert abs(cents + advice.predicted_cents) <= abs(cents)
    assert cents > 0.0 or advice.remedy != "shading"


def test_the_usual_level_is_that_of_notes_within_a_fifth() -> None:
    low = [
        scored_note(midi, 0.0, level_db=level) for midi, level in ((65, -30), (67, -28), (69, -26))
    ]
    high = scored_note(86, 0.0, level_db=-10.0)
    assert usual_level_db([*low, high], midi=70) == -28.0
    assert usual_level_db([*low, high], midi=86) is None
