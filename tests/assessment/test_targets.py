"""Which note was meant, and how far it lies from its target."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.assessment.targets import TargetChoice, scored
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.pitch.cents import cents_between, shifted_hz
from intonation.pitch.intervals import interval_between
from intonation.pitch.notes import equal_tempered_hz, midi_of_note
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import pure_over, tempered
from tests.support.held_notes import EQUAL_440, held_note

# Pure intervals over a drone against equal temperament, from the 5-limit ratios (H. von Helmholtz,
# On the Sensations of Tone; from memory), in whole cents as teachers quote them.
GOALS = {"F4": 0, "C5": 2, "Bb4": -2, "A4": -14, "G#4": 16, "D5": -16, "C#5": 14, "G4": 4}


def over_f4(instrument: str = "alto", a4_hz: float = 440.0) -> TargetChoice:
    equal = tempered(temperament_named("equal"), a4_hz=a4_hz)
    drone = midi_of_note("F4")
    return TargetChoice(
        instrument=instrument_named(instrument),
        tuning=pure_over(drone, within=equal),
        reference_midi=drone,
    )


@pytest.mark.parametrize(("note", "goal_cents"), GOALS.items())
def test_pure_targets_over_a_drone_are_where_teachers_place_them(
    note: str, goal_cents: int
) -> None:
    midi = midi_of_note(note)
    hz = over_f4().of_note(midi).hz
    assert cents_between(hz, target_hz=EQUAL_440.hz(midi)) == pytest.approx(goal_cents, abs=0.5)


def test_a_pure_fifth_over_the_drone_is_three_halves_of_it() -> None:
    target = over_f4().nearest(525.0)
    assert target is not None
    assert target.interval == "fifth"
    assert target.hz == pytest.approx(1.5 * equal_tempered_hz(65, a4_hz=440.0))


@given(
    name=st.sampled_from(INSTRUMENT_NAMES),
    step=st.integers(0, 21),
    cents=st.floats(-34.0, 34.0),
    a4_hz=st.floats(380.0, 480.0),
)
def test_a_note_within_a_third_of_a_semitone_of_its_target_is_that_note(
    name: str, step: int, cents: float, a4_hz: float
) -> None:
    choice = over_f4(name, a4_hz)
    midi = choice.instrument.lowest_midi + step
    meant = choice.of_note(midi)
    assert choice.nearest(shifted_hz(meant.hz, cents=cents)) == meant


@given(f0_hz=st.floats(20.0, 20000.0), name=st.sampled_from(INSTRUMENT_NAMES))
def test_whatever_sounds_no_other_note_of_the_instrument_is_nearer(f0_hz: float, name: str) -> None:
    choice = over_f4(name)
    found = choice.nearest(f0_hz)
    nearest_cents = min(
        abs(cents_between(f0_hz, target_hz=choice.of_note(midi).hz))
        for midi in range(choice.instrument.lowest_midi, choice.instrument.lowest_midi + 28)
    )
    if found is None:
        assert nearest_cents > 50.0
    else:
        assert abs(cents_between(f0_hz, target_hz=found.hz)) == pytest.approx(nearest_cents)


def test_the_nearest_target_counts_and_not_the_nearest_key_of_a_keyboard() -> None:
    # Over F4 the pure G4 stands 4 cents, the pure A flat 16 cents above equal temperament.
    target = over_f4().nearest(shifted_hz(EQUAL_440.hz(midi_of_note("G#4")), cents=-45.0))
    assert target is not None
    assert target.midi == midi_of_note("G4")


def test_a_sound_below_or_above_the_instrument_has_no_target() -> None:
    assert over_f4().nearest(220.0) is None
    assert over_f4().nearest(3000.0) is None


def test_a_flat_lowest_note_is_still_that_note() -> None:
    target = over_f4().nearest(shifted_hz(equal_tempered_hz(65, a4_hz=440.0), cents=-60.0))
    assert target is not None
    assert target.midi == 65


@pytest.mark.parametrize(
    ("midi", "name"),
    [(65, "unison"), (77, "octave"), (53, "octave"), (72, "fifth"), (60, "fourth"), (84, "fifth")],
)
def test_intervals_are_named_in_both_directions(midi: int, name: str) -> None:
    assert interval_between(midi, over_midi=65) == name


def test_a_note_above_its_target_is_scored_sharp() -> None:
    choice = TargetChoice(instrument=instrument_named("alto"), tuning=EQUAL_440)
    note = scored(held_note(446.0), target=choice.of_note(69))
    # From 440 to 446 Hz: 1200·log2(446/440), the definition of the cent (A. J. Ellis, 1885).
    assert note.cents == pytest.approx(23.448, abs=0.001)
