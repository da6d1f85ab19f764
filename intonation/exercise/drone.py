"""A drone: one sounding note, with its fifth and octave if wanted, each at an exact frequency."""

from dataclasses import dataclass

from intonation.pitch.tuning import Tuning

_FIFTH_SEMITONES = 7
_OCTAVE_SEMITONES = 12
_FIFTH_LEVEL_DB = -6.0
_OCTAVE_LEVEL_DB = -6.0


@dataclass(frozen=True, slots=True)
class DroneTone:
    """One tone of a drone.

    Parameters
    ----------
    midi
        Its note.
    interval
        ``"unison"``, ``"fifth"`` or ``"octave"`` above the drone's own note.
    hz
        Frequency that sounds.
    level_db
        Level relative to the drone's own note (design judgement: the others sound softer).
    """

    midi: int
    interval: str
    hz: float
    level_db: float


@dataclass(frozen=True, slots=True)
class Drone:
    """A sounding reference that stays the same for a whole take, its own note first."""

    tones: tuple[DroneTone, ...]

    @property
    def midi(self) -> int:
        """The drone's own note."""
        return self.tones[0].midi

    @property
    def frequencies_hz(self) -> tuple[float, ...]:
        """Frequencies of all tones, the drone's own note first."""
        return tuple(tone.hz for tone in self.tones)


def drone_on(
    midi: int, *, tuning: Tuning, with_fifth: bool = False, with_octave: bool = False
) -> Drone:
    """Return the drone on a note in a tuning.

    Parameters
    ----------
    midi
        The drone's note.
    tuning
        What fixes the frequencies; over a pure tuning on this note the fifth is 3:2, in a
        temperament it is as wide as the temperament has it.
    with_fifth, with_octave
        Which tones sound above it.
    """
    tones = [DroneTone(midi, "unison", tuning.hz(midi), 0.0)]
    if with_fifth:
        fifth = midi + _FIFTH_SEMITONES
        tones.append(DroneTone(fifth, "fifth", tuning.hz(fifth), _FIFTH_LEVEL_DB))
    if with_octave:
        octave = midi + _OCTAVE_SEMITONES
        tones.append(DroneTone(octave, "octave", tuning.hz(octave), _OCTAVE_LEVEL_DB))
    return Drone(tuple(tones))
