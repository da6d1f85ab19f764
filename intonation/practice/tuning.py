"""The tuning and the drone that a player's settings ask for."""

from intonation.exercise.drone import Drone, drone_on
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import Tuning, pure_over, tempered
from intonation.practice.settings import PracticeSettings

PURE = "pure"


def tuning_of(settings: PracticeSettings) -> Tuning:
    """Return the tuning that notes are scored in.

    Pure intervals stand over the drone, which keeps its equal-tempered frequency.

    Raises
    ------
    SettingsError
        If there is no such temperament.
    """
    if settings.temperament == PURE:
        equal = tempered(temperament_named("equal"), a4_hz=settings.a4_hz)
        return pure_over(settings.drone_midi, within=equal)
    return tempered(temperament_named(settings.temperament), a4_hz=settings.a4_hz)


def drone_of(settings: PracticeSettings) -> Drone:
    """Return the drone with the tones that the settings ask for."""
    return drone_on(
        settings.drone_midi,
        tuning=tuning_of(settings),
        with_fifth=settings.drone_fifth,
        with_octave=settings.drone_octave,
    )
