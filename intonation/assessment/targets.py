"""Which note was meant: the instrument's note whose target lies nearest to what sounds."""

from dataclasses import dataclass

from intonation.assessment.scoring import ScoredNote, Target
from intonation.instruments.instrument import Instrument
from intonation.pitch.cents import cents_between
from intonation.pitch.intervals import interval_between
from intonation.pitch.notes import A4_MIDI
from intonation.pitch.tuning import Tuning
from intonation.tracking.events import HeldNote

OUTSIDE_CENTS = 70.0
"""Beyond the outermost notes of the instrument a sound this far off is no note of it
(design judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetChoice:
    """What targets are chosen from.

    Parameters
    ----------
    instrument
        Whose notes can be meant.
    tuning
        What fixes their frequencies.
    reference_midi
        The sounding note that intervals are named from; None without a reference.
    """

    instrument: Instrument
    tuning: Tuning
    reference_midi: int | None = None

    def of_note(self, midi: int) -> Target:
        """Return the target of a note."""
        interval = None
        if self.reference_midi is not None:
            interval = interval_between(midi, over_midi=self.reference_midi)
        return Target(midi, self.tuning.hz(midi), interval, self.reference_midi, self.tuning.name)

    def nearest(self, f0_hz: float) -> Target | None:
        """Return the target nearest to a frequency, or None if no note of the instrument is near.

        Parameters
        ----------
        f0_hz
            What sounds, above zero.
        """
        near = round(A4_MIDI + cents_between(f0_hz, target_hz=self.tuning.a4_hz) / 100.0)
        lowest = self.instrument.lowest_midi
        highest = lowest + len(self.instrument.chart.notes) - 1
        possible = {min(max(midi, lowest), highest) for midi in (near - 1, near, near + 1)}
        target = min(
            (self.of_note(midi) for midi in sorted(possible)),
            key=lambda target: abs(cents_between(f0_hz, target_hz=target.hz)),
        )
        distance_cents = abs(cents_between(f0_hz, target_hz=target.hz))
        return target if distance_cents <= OUTSIDE_CENTS else None


def scored(held: HeldNote, *, target: Target) -> ScoredNote:
    """Return a held note with its distance from a target."""
    return ScoredNote(held, target, cents_between(held.f0_hz, target_hz=target.hz))
