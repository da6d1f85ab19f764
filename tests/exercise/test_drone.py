"""A drone's tones and their exact frequencies."""

import pytest

from intonation.exercise.drone import drone_on
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import pure_over, tempered

EQUAL = tempered(temperament_named("equal"), a4_hz=440.0)


def test_a_pure_drone_sounds_in_whole_number_ratios() -> None:
    drone = drone_on(60, tuning=pure_over(60, within=EQUAL), with_fifth=True, with_octave=True)
    root, fifth, octave = drone.frequencies_hz
    assert root == pytest.approx(261.6256, abs=1e-4)  # MIDI 1.0 Detailed Specification, key 60
    assert (fifth / root, octave / root) == pytest.approx((1.5, 2.0))


def test_a_tempered_drone_has_the_fifth_of_its_temperament() -> None:
    # Quarter-comma meantone fifth: 5^(1/4) (J. M. Barbour, Tuning and Temperament; from memory).
    tuning = tempered(temperament_named("quarter-comma-meantone"), a4_hz=415.0)
    root, fifth = drone_on(60, tuning=tuning, with_fifth=True).frequencies_hz
    assert fifth / root == pytest.approx(5**0.25)


def test_a_plain_drone_is_one_tone() -> None:
    (tone,) = drone_on(65, tuning=EQUAL).tones
    assert (tone.midi, tone.interval, tone.level_db) == (65, "unison", 0.0)


def test_the_drones_own_note_comes_first_and_sounds_loudest() -> None:
    drone = drone_on(65, tuning=EQUAL, with_fifth=True, with_octave=True)
    assert drone.midi == 65
    assert all(tone.level_db < drone.tones[0].level_db for tone in drone.tones[1:])
