"""An exercise made ready to sound: notes in seconds and hertz, each target with its reason."""

from dataclasses import dataclass
from typing import Literal

from intonation.pitch.chords import MemberName

Role = Literal["count-in", "drone", "reference note", "bass", "chord", "melody"]
Origin = Literal["chord", "drone", "reference note", "temperament"]

LEVELS_DB: dict[Role, float] = {
    "count-in": -3.0,
    "drone": 0.0,
    "reference note": 0.0,
    "bass": 0.0,
    "chord": -3.0,
    "melody": -3.0,
}
"""How loud each part of the reference is, 0 dB being a voice's usual level (design judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MelodyTarget:
    """What a note of the player's part should be, and why.

    Parameters
    ----------
    midi, hz
        The note and its frequency.
    origin
        ``chord``, ``drone`` and ``reference note`` mean pure over what sounds; ``temperament``
        that the temperament decides.
    tuning
        Name of the temperament.
    chord
        Symbol of the chord that sounds with it, if any.
    member
        Its place in that chord; None for a note that does not belong to it.
    interval, over_midi
        Interval over the drone or reference note, and that note, if there is one.
    """

    midi: int
    hz: float
    origin: Origin
    tuning: str
    chord: str | None = None
    member: MemberName | None = None
    interval: str | None = None
    over_midi: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoreNote:
    """A note that the player is to play.

    Parameters
    ----------
    number
        Its place in the exercise, from 0.
    phrase
        Number of its phrase, from 0.
    start_s, end_s
        When, counted from the start of the sound.
    target
        What it should be.
    breathe_after
        Whether a place to breathe follows it.
    """

    number: int
    phrase: int
    start_s: float
    end_s: float
    target: MelodyTarget
    breathe_after: bool = False

    @property
    def duration_s(self) -> float:
        """Its length."""
        return self.end_s - self.start_s


@dataclass(frozen=True, slots=True, kw_only=True)
class ReferenceTone:
    """A tone that sounds: its note, exact frequency, and time from the start of the sound."""

    midi: int
    hz: float
    start_s: float
    end_s: float
    role: Role


@dataclass(frozen=True, slots=True)
class PhraseSpan:
    """When a phrase begins and ends, its breath left out."""

    number: int
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Sounding:
    """What sounds from a moment on: low tones first; empty for silence."""

    start_s: float
    tones: tuple[ReferenceTone, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """An exercise transposed to an instrument, tuned and timed.

    Parameters
    ----------
    exercise
        Name of the exercise.
    tempo
        Beats per minute.
    transposed_semitones
        How far it was moved from what is written.
    count_in_s
        Length of the count-in, with which it begins.
    duration_s
        Length of the whole.
    notes
        The player's part.
    reference
        All that sounds, by start.
    phrases
        When each phrase is.
    """

    exercise: str
    tempo: float
    transposed_semitones: int
    count_in_s: float
    duration_s: float
    notes: tuple[ScoreNote, ...]
    reference: tuple[ReferenceTone, ...]
    phrases: tuple[PhraseSpan, ...]

    def soundings(self) -> tuple[Sounding, ...]:
        """Return what sounds as a sequence of changes, the last of them to silence."""
        starts: dict[float, list[ReferenceTone]] = {0.0: [], self.duration_s: []}
        for tone in self.reference:
            starts.setdefault(tone.start_s, []).append(tone)
            starts.setdefault(tone.end_s, [])
        soundings: list[Sounding] = []
        active: list[ReferenceTone] = []
        for moment in sorted(starts):
            active = [tone for tone in active if tone.end_s > moment] + starts[moment]
            tones = tuple(sorted(active, key=lambda tone: tone.hz))
            if not soundings or _heard(tones) != _heard(soundings[-1].tones):
                soundings.append(Sounding(moment, tones))
        return tuple(soundings)


def _heard(tones: tuple[ReferenceTone, ...]) -> tuple[tuple[float, Role], ...]:
    return tuple((tone.hz, tone.role) for tone in tones)
