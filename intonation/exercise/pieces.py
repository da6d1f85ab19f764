"""An exercise as it is written: notes, chords and drones in beats, not yet tuned or transposed."""

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, get_args

from intonation.pitch.chords import Chord

Kind = Literal[
    "long tones",
    "unison",
    "octave",
    "fifth",
    "third",
    "octave pairs",
    "chord placement",
    "scale",
    "cadence",
    "melody",
]
KINDS: tuple[str, ...] = get_args(Kind)
Order = Literal["written", "varied"]
ORDERS: tuple[str, ...] = get_args(Order)
ALTO_LOWEST_MIDI = 65


@dataclass(frozen=True, slots=True)
class WrittenNote:
    """A note (its MIDI number, None for a rest) and its length in beats."""

    midi: int | None
    beats: Fraction


@dataclass(frozen=True, slots=True)
class WrittenChord:
    """A chord (None for silence) and its length in beats."""

    chord: Chord | None
    beats: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    """What is played in one breath or a few, and what sounds with it.

    Parameters
    ----------
    notes
        The player's part.
    chords
        The backing; empty where there is none. As long as the notes.
    drone
        MIDI notes that sound throughout, lowest first; at most three.
    below
        Semitones by which a reference note of its own lies below each note; None for none.
    breath
        Beats to breathe in after the phrase, while the reference sounds on.
    """

    notes: tuple[WrittenNote, ...]
    chords: tuple[WrittenChord, ...] = ()
    drone: tuple[int, ...] = ()
    below: int | None = None
    breath: Fraction = Fraction(0)

    @property
    def beats(self) -> Fraction:
        """Length without the breath."""
        return sum((note.beats for note in self.notes), Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Exercise:
    """Something to practise, written for one size of recorder and fit for all.

    Parameters
    ----------
    name
        Word by which commands know it.
    title, listen
        Words for the screen: what it is called, and what to listen for.
    kind
        One of `KINDS`.
    tempo
        Beats per minute.
    beats_in_bar, count_in
        Beats of a bar, and beats that are counted before the first note.
    phrases
        The music.
    order
        ``varied``: the notes of each phrase come in another order every time.
    written_from
        Lowest sounding MIDI note of the instrument that it is written for (the alto's F4).
    key
        For example ``"F major"``; None where it has none.
    provenance, evidence
        Whose music it is, and how its notes were checked.
    """

    name: str
    title: str
    kind: str
    listen: str
    tempo: float = 60.0
    beats_in_bar: int = 4
    count_in: int = 4
    phrases: tuple[Phrase, ...]
    order: str = "written"
    written_from: int = ALTO_LOWEST_MIDI
    key: str | None = None
    provenance: str = ""
    evidence: str = ""

    @property
    def midi_range(self) -> tuple[int, int]:
        """Lowest and highest note of the player's part."""
        played = [n.midi for phrase in self.phrases for n in phrase.notes if n.midi is not None]
        return min(played), max(played)

    @property
    def beats(self) -> Fraction:
        """Length with breaths, without the count-in."""
        return sum((phrase.beats + phrase.breath for phrase in self.phrases), Fraction(0))

    def of_phrases(self, *numbers: int) -> "Exercise":
        """Return the exercise made of some of its phrases, counted from 0; repeat one to loop."""
        return replace(self, phrases=tuple(self.phrases[number] for number in numbers))
