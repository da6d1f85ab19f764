"""A trial: the exact tones that are heard, what is asked about them, and which answer is right."""

from dataclasses import dataclass
from typing import Literal

Register = Literal["low", "high"]


@dataclass(frozen=True, slots=True)
class Timbre:
    """The partials of a sound.

    Parameters
    ----------
    name
        What it sounds like.
    partial_levels_db
        Levels of partials 1, 2, 3 … relative to the first.
    """

    name: str
    partial_levels_db: tuple[float, ...]


RECORDER_LOW = Timbre("recorder, low register", (0.0, -8.0, -16.0, -30.0, -38.0, -45.0))
RECORDER_HIGH = Timbre("recorder, high register", (0.0, -24.0, -30.0, -42.0))
"""Within the ranges that D. Chin and G. Xia measured on a duct flute (arXiv:2107.08727): second
partial −2 to −14 dB low and −20 to −32 dB high, third −7 to −31 and −24 to −36 dB."""

ORGAN = Timbre(
    "drone", (0.0, -5.0, -10.0, -13.0, -17.0, -20.0, -24.0, -26.0, -30.0, -32.0, -35.0, -37.0)
)
"""Clear low partials, so that a mistuned note beats audibly (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeardTone:
    """One steady tone.

    Parameters
    ----------
    hz
        Exact fundamental frequency.
    level_db
        RMS level in dBFS.
    start_s, duration_s
        When it begins, counted from the start of the trial, and how long it sounds.
    timbre
        Its partials.
    brightness_db
        How much the level rises per octave of partials over the timbre's own; roved.
    """

    hz: float
    level_db: float
    start_s: float
    duration_s: float
    timbre: Timbre
    brightness_db: float = 0.0

    @property
    def end_s(self) -> float:
        """When it is silent again."""
        return self.start_s + self.duration_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """What one threshold belongs to.

    Parameters
    ----------
    drill
        Name of the drill.
    interval
        Interval, chord or tune that is asked about; None where there is none.
    register
        Where on the instrument.
    """

    drill: str
    interval: str | None = None
    register: Register = "low"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One question for the ear.

    Parameters
    ----------
    condition
        What it measures.
    tones
        What sounds.
    choices
        The answers to choose from.
    right
        The right one.
    step_cents
        The difficulty that was asked for; with its sign where the question is sharp or flat.
    deviation_cents
        How far the mistuned tone is off; positive is sharp. Where the answer is not a direction,
        the sign has been drawn by chance.
    version_starts_s
        When each version begins, where several are compared.
    beats_hz
        How fast the mistuned version beats, for the feedback; None where nothing beats.
    difference_tone_cents
        How far the difference tone of the mistuned version is off; None if that is not asked.
    """

    condition: Condition
    tones: tuple[HeardTone, ...]
    choices: tuple[str, ...]
    right: str
    step_cents: float
    deviation_cents: float
    version_starts_s: tuple[float, ...] = ()
    beats_hz: float | None = None
    difference_tone_cents: float | None = None

    @property
    def duration_s(self) -> float:
        """How long it sounds."""
        return max(tone.end_s for tone in self.tones)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer that was given.

    Parameters
    ----------
    trial
        What was heard.
    choice
        What the listener chose.
    """

    trial: Trial
    choice: str

    @property
    def is_right(self) -> bool:
        """Whether it is the right one."""
        return self.choice == self.trial.right
