"""A tuning: what frequency each note has, from a temperament or as pure intervals over a bass."""

from dataclasses import dataclass

from intonation.pitch.cents import shifted_hz
from intonation.pitch.intervals import interval_above
from intonation.pitch.notes import equal_tempered_hz
from intonation.pitch.temperaments import Temperament


@dataclass(frozen=True, slots=True)
class Tuning:
    """Frequencies of all notes at one concert pitch.

    Parameters
    ----------
    name
        A temperament's name, or ``"pure"``.
    a4_hz
        Concert pitch.
    cents_from_equal
        Twelve deviations from equal temperament at this concert pitch, C first.
    """

    name: str
    a4_hz: float
    cents_from_equal: tuple[float, ...]

    def hz(self, midi: int) -> float:
        """Return the frequency in hertz of a MIDI note number in this tuning."""
        equal_hz = equal_tempered_hz(midi, a4_hz=self.a4_hz)
        return shifted_hz(equal_hz, cents=self.cents_from_equal[midi % 12])


def tempered(temperament: Temperament, *, a4_hz: float) -> Tuning:
    """Return the tuning of a temperament whose A is the concert pitch."""
    return Tuning(temperament.name, a4_hz, temperament.cents_from_equal)


def pure_over(tonic_midi: int, *, within: Tuning) -> Tuning:
    """Return pure intervals over a bass note that keeps its frequency in another tuning.

    Parameters
    ----------
    tonic_midi
        The bass (drone) note; only its pitch class matters.
    within
        The tuning that fixes the bass note itself.
    """
    tonic = tonic_midi % 12
    anchor = within.cents_from_equal[tonic]
    deviations = (
        anchor + interval_above(pitch_class - tonic).cents_from_equal for pitch_class in range(12)
    )
    return Tuning("pure", within.a4_hz, tuple(deviations))
