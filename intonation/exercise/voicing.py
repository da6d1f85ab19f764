"""Where the notes of a backing chord lie: a bass note, and one fixed place for each upper note."""

from dataclasses import dataclass

from intonation.pitch.chords import Chord

LOWEST_BASS_MIDI = 43
LOWEST_UPPER_MIDI = 55


@dataclass(frozen=True, slots=True)
class Voicing:
    """The MIDI notes of a chord: its bass, and the notes above it from low to high."""

    bass: int
    upper: tuple[int, ...]

    @property
    def notes(self) -> tuple[int, ...]:
        """All notes, bass first."""
        return (self.bass, *self.upper)


def voiced(chord: Chord) -> Voicing:
    """Return a chord's notes in close position within G3–F♯4 over a bass within G2–F♯3.

    As every pitch class has one place only, notes that two chords share sound on unmoved.
    """
    bass_class = chord.root if chord.bass is None else chord.bass
    members = {(chord.root + member.semitones) % 12 for member in chord.members}
    upper = sorted(_from(LOWEST_UPPER_MIDI, pitch_class) for pitch_class in members)
    return Voicing(_from(LOWEST_BASS_MIDI, bass_class), tuple(upper))


def _from(lowest: int, pitch_class: int) -> int:
    return lowest + (pitch_class - lowest) % 12
