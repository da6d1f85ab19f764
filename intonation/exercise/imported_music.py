"""Music from another program, before it is made into an exercise: parts of timed notes."""

from dataclasses import dataclass
from fractions import Fraction

from intonation.pitch.chords import Chord

STEPS_PER_BEAT = 24
"""Finest division that is kept: triplets and thirty-second notes of a quarter note."""

MOST_IMPORTED_NOTES = 50_000
MOST_IMPORTED_BEATS = 10_000
LONGEST_IMPORTED_NOTE = Fraction(64)


def on_grid(beats: Fraction) -> Fraction:
    """Return the nearest moment that is kept."""
    return Fraction(round(beats * STEPS_PER_BEAT), STEPS_PER_BEAT)


@dataclass(frozen=True, slots=True)
class TimedNote:
    """A note with its start and length in beats (quarter notes) from the beginning.

    ``ends_phrase`` where the file has a fermata or a breath mark on it.
    """

    start: Fraction
    beats: Fraction
    midi: int
    ends_phrase: bool = False

    @property
    def end(self) -> Fraction:
        """Beat at which it ends."""
        return self.start + self.beats


@dataclass(frozen=True, slots=True)
class ImportedPart:
    """One voice of the music, by the name that its file gives it."""

    name: str
    notes: tuple[TimedNote, ...]


@dataclass(frozen=True, slots=True)
class TimedChord:
    """A chord symbol (None: explicitly none) and the beat from which it holds."""

    start: Fraction
    chord: Chord | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportedMusic:
    """What a music file says, reduced to what an exercise needs.

    Parameters
    ----------
    file_name
        Where it comes from.
    title
        Its title; empty if none.
    tempo
        Quarter notes per minute; None if it does not say.
    beats_in_bar
        Quarter notes in a bar.
    parts
        Voices with at least one note.
    chords
        Chord symbols written in the file, in order; empty if there are none.
    """

    file_name: str
    title: str = ""
    tempo: float | None = None
    beats_in_bar: int = 4
    parts: tuple[ImportedPart, ...]
    chords: tuple[TimedChord, ...] = ()
