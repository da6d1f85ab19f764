"""The pitch of one held note over time, as it is kept and drawn."""

from dataclasses import dataclass

STEP_S = 0.025
"""Short enough for any vibrato of a recorder (design judgement)."""

MOST_POINTS = 1200
"""A longer note is thinned further, so that no note takes more room than this."""

CENTS_STEP, LEVEL_STEP_DB = 0.05, 0.1
"""Figures are rounded to these: finer ones are noise."""


@dataclass(frozen=True, slots=True)
class PitchTrace:
    """Pitch and level of a held note, point by point from its onset.

    Parameters
    ----------
    step_s
        Time from point to point; the first stands half a step after the onset.
    cents
        Pitch counted from the frequency that the note is scored with; None where unknown.
    level_db
        RMS level in dBFS; None where unknown.
    """

    step_s: float
    cents: tuple[float | None, ...]
    level_db: tuple[float | None, ...]

    @property
    def times_s(self) -> tuple[float, ...]:
        """When each point is, counted from the onset."""
        return tuple((place + 0.5) * self.step_s for place in range(len(self.cents)))
