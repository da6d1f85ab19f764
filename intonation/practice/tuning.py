"""The tuning and the drone that a player's settings ask for."""

from intonation.errors import SettingsError
from intonation.exercise.drone import Drone, drone_on
from intonation.language import say
from intonation.pitch.temperaments import Temperament, temperament_named
from intonation.pitch.tuning import Tuning, pure_over, tempered
from intonation.practice.settings import OWN, PURE, PracticeSettings


def temperament_of(settings: PracticeSettings) -> Temperament:
    """Return the temperament that a player chose; under pure intervals lies the equal one.

    Raises
    ------
    SettingsError
        If there is no such temperament.
    """
    if settings.temperament != OWN:
        return temperament_named("equal" if settings.temperament == PURE else settings.temperament)
    if settings.own_temperament is None:
        raise SettingsError(
            say("There is no temperament of your own."),
            say("Choose its file on the temperaments page."),
        )
    return settings.own_temperament


def tuning_of(settings: PracticeSettings) -> Tuning:
    """Return the tuning that notes are scored in.

    Pure intervals stand over the drone, which keeps its equal-tempered frequency.

    Raises
    ------
    SettingsError
        If there is no such temperament.
    """
    within = tempered(temperament_of(settings), a4_hz=settings.a4_hz)
    if settings.temperament == PURE:
        return pure_over(settings.drone_midi, within=within)
    return within


def drone_of(settings: PracticeSettings) -> Drone:
    """Return the drone with the tones that the settings ask for."""
    return drone_on(
        settings.drone_midi,
        tuning=tuning_of(settings),
        with_fifth=settings.drone_fifth,
        with_octave=settings.drone_octave,
    )
