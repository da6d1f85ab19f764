"""What a diagnosis says: of every note, of the instrument as a whole, and of what to do next."""

from dataclasses import dataclass
from typing import Literal

from intonation.diagnosis.parts import Interval
from intonation.diagnosis.verdict import Probabilities, Verdict

Experiment = Literal[
    "natural",
    "careful-swell",
    "natural and careful-swell",
    "another day",
    "second instrument",
    "second player",
]
Lack = Literal["other notes", "tone without reference", "swell", "agreeing days"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NextExperiment:
    """Something to play that may settle a note.

    Parameters
    ----------
    experiment
        What to play.
    gain
        How much more probable the best answer is expected to be afterwards, 0 to 1.
    seconds
        How long it takes.
    """

    experiment: Experiment
    gain: float
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteDiagnosis:
    """One note of one player on one instrument.

    Parameters
    ----------
    midi, fingering
        The note.
    total, instrument, player, breath, habit
        In cents, each centred on the mean of the pair's notes; the player's part is breath and
        habit (fingers) together. Breath and habit are None where no swell tells them apart.
    cents_per_db
        How the note bends with breath; None without a swell.
    verdict, probabilities
        Who owns it, and how probable each answer is: a model estimate.
    next
        What would settle it, the best first; empty for a settled note.
    lacks
        What an open note lacks before anybody can be blamed for it: enough other notes to be
        judged by, a tone without a reference, a swell with its level (or another player, or
        instrument), days that agree. None if only the probabilities leave it open.
    """

    midi: int
    fingering: str
    total: Interval
    instrument: Interval
    player: Interval
    breath: Interval | None
    habit: Interval | None
    cents_per_db: Interval | None
    verdict: Verdict
    probabilities: Probabilities
    next: tuple[NextExperiment, ...] = ()
    lacks: Lack | None = None


@dataclass(frozen=True, slots=True)
class Octave:
    """The width of an octave on the instrument, in cents beyond 1200."""

    low: int
    high: int
    width: Interval


@dataclass(frozen=True, slots=True, kw_only=True)
class Overall:
    """An instrument as its player plays it, as a whole.

    Parameters
    ----------
    pitch
        Mean deviation in cents, warmed up and at 20 degrees Celsius: instrument, player's general
        breath and joint pull together, which one pair cannot tell apart.
    window
        Cents between the instrument's lowest and highest note; None for fewer than two notes.
    octaves
        Every octave of which both notes were measured.
    """

    pitch: Interval
    window: Interval | None
    octaves: tuple[Octave, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PairDiagnosis:
    """All that is said about one player on one instrument."""

    player: str
    instrument: str
    overall: Overall
    notes: tuple[NoteDiagnosis, ...]
