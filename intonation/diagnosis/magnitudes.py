"""How large each effect usually is: the medians of the priors, and how freely they may differ.

Every magnitude is invented until recordings of many players and instruments exist; the fit
re-estimates the free ones from each player's own notes, so they weigh most where little was played.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FREE = (
    "unevenness",
    "habit",
    "breath",
    "loudness",
    "breath repeat",
    "middle",
    "pitch",
    "day",
    "room",
)
"""Effects whose size is estimated: how uneven an instrument is, what fingers do, how uneven the
breath is, loudness at equal breath, breath from tone to tone, middle of a swell, measured pitch,
note by day, note by microphone position.
"""

SIZES = (4.5, 1.0, 1.3, 2.2, 0.8, 0.95, 1.3, 1.3, 1.2)
"""Median standard deviations: cents, factor, dB, dB, dB, dB, cents, cents, dB."""

_LOG_SPREAD = (0.42, 0.42, 0.42, 0.42, 0.42, 0.42, 0.42, 0.8, 1.0)
"""How freely each size may differ; a microphone may well not have been moved between sessions."""
_SKILL = ("habit", "breath", "breath repeat", "middle")
_SKILL_CORRELATION = 0.5

HABIT_CENTS = {"plain": 1.2, "fork": 2.0, "half": 2.5, "thumb": 4.5}
"""Spread of what a player's fingers do to a note, by what makes the fingering delicate."""
OTHER_HABIT_CENTS = 2.0
THUMB_HABIT_CENTS = 3.0
"""Spread of what a player's thumb does to all pinched notes alike."""

USUAL_CENTS_PER_DB = 4.5
CENTS_PER_DB_SPREAD = 1.5
CENTS_PER_DB_TILT = 0.6
NOTE_CENTS_PER_DB_SPREAD = 0.9
USUAL_CURVATURE = -0.08
CURVATURE_SPREAD = 0.08
CURVATURE_TILT = 0.02
NOTE_CURVATURE_SPREAD = 0.05
"""How pitch follows breath: cents per dB and cents per dB squared; how they differ between
instruments, per octave and from note to note."""

CENTS_PER_CELSIUS = 2.95
"""Pitch of a pipe at 20 degrees: half of 1200 / ln 2 cents over 293.15 K (closed form)."""


@dataclass(frozen=True, slots=True)
class Fixed:
    """Standard deviations that are not estimated, in cents, dB, and either of them per unit."""

    mean_cents: float = 25.0
    sitting_cents: float = 5.0
    warm_up_cents: float = 6.0
    drift_cents: float = 2.0
    approach_cents: float = 1.0
    tilt_cents: float = 6.0
    register_cents: float = 5.0
    bow_cents: float = 4.0
    change_cents: float = 12.0
    exact_again: float = 0.25
    shading_cents: float = 4.0
    breath_db: float = 4.0
    breath_tilt_db: float = 1.6
    breath_bow_db: float = 1.2
    breath_register_db: float = 1.0
    range_db: float = 0.7
    mood_db: float = 1.0
    fatigue_db: float = 0.06
    matched_db: float = 4.0
    loose_db: float = 1.2
    loose_cents: float = 2.5
    swell_db: float = 0.8
    swell_tilt_db: float = 0.5
    gain_db: float = 8.0
    loudness_tilt_db: float = 4.0
    loudness_bow_db: float = 3.0
    level_db: float = 0.4


FIXED = Fixed()


def size_of(effect: str) -> float:
    """Return the median size of a free effect."""
    return SIZES[FREE.index(effect)]


def log_size_precision() -> NDArray[np.float64]:
    """Return the inverse covariance of the log sizes: a skilled player is better at everything."""
    skilled = np.array([effect in _SKILL for effect in FREE], dtype=float)
    correlation = np.eye(len(FREE)) * (1.0 - _SKILL_CORRELATION * skilled)
    correlation += _SKILL_CORRELATION * np.outer(skilled, skilled)
    covariance = correlation * np.outer(_LOG_SPREAD, _LOG_SPREAD)
    return np.asarray(np.linalg.inv(covariance), dtype=np.float64)
