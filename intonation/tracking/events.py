"""What the tracker says: pitch frames, the start of a note, and a held note when it has ended."""

from dataclasses import dataclass

from intonation.tracking.trace import PitchTrace


@dataclass(frozen=True, slots=True)
class PitchFrame:
    """The sound at one moment.

    Parameters
    ----------
    time_s
        Centre of the analysed stretch, counted from the first sample.
    f0_hz
        Fundamental frequency; None where no note sounds.
    harmonic_to_noise_db
        Level of the partials above the level of everything else.
    level_db
        RMS level of the sound in dBFS (a full-scale sine is −3.01 dBFS).
    """

    time_s: float
    f0_hz: float | None
    harmonic_to_noise_db: float
    level_db: float


@dataclass(frozen=True, slots=True)
class NoteStarted:
    """A note has begun to sound and is steady enough to be called a note."""

    onset_s: float
    f0_hz: float


@dataclass(frozen=True, slots=True)
class HeldNote:
    """One note from onset to offset. Pitch figures are taken over its sustain.

    Parameters
    ----------
    onset_s, offset_s
        When it begins to sound and when it is let go, counted from the first sample.
    f0_hz
        Median fundamental frequency over the sustain.
    standard_error_cents
        Standard error of ``f0_hz``, in cents.
    sd_cents, drift_cents_per_s
        Spread about, and slope of, the straight line through the sustain.
    level_db
        RMS level over the sustain in dBFS.
    harmonic_to_noise_db
        Median over the sustain.
    cents_per_db
        How the pitch follows the level, where the level moved enough to tell.
    vibrato_hz, vibrato_cents
        Rate, and extent (half of peak to peak), where there is a vibrato.
    trace
        Pitch and level over time.
    """

    onset_s: float
    offset_s: float
    f0_hz: float
    standard_error_cents: float
    sd_cents: float
    drift_cents_per_s: float
    level_db: float
    harmonic_to_noise_db: float
    cents_per_db: float | None = None
    vibrato_hz: float | None = None
    vibrato_cents: float | None = None
    trace: PitchTrace | None = None

    @property
    def duration_s(self) -> float:
        """Length from onset to offset in seconds."""
        return self.offset_s - self.onset_s


TrackerEvent = PitchFrame | NoteStarted | HeldNote
