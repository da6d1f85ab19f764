"""A held note as it is looked at afterwards: its figures, and its pitch and level over time."""

from dataclasses import dataclass

from intonation.tracking.trace import PitchTrace


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedNote:
    """One note of a take. None means unknown.

    Parameters
    ----------
    number
        Running number in the take, from 1.
    midi
        The note that was meant.
    cents
        Median deviation from the target over the sustain, positive when sharp.
    target_hz
        What should have sounded.
    duration_s
        Length from onset to offset.
    sd_cents, drift_cents_per_s, level_db
        Spread, slope and level within the sustain.
    trace
        Pitch and level over time; None for notes of a record that did not keep them.
    """

    number: int
    midi: int
    cents: float
    target_hz: float | None = None
    duration_s: float | None = None
    sd_cents: float | None = None
    drift_cents_per_s: float | None = None
    level_db: float | None = None
    trace: PitchTrace | None = None

    @property
    def off_target_cents(self) -> tuple[float | None, ...]:
        """Deviation from the target at every point of the trace; empty without one."""
        if self.trace is None:
            return ()
        return tuple(None if c is None else c + self.cents for c in self.trace.cents)
