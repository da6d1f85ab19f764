"""Tune it: turn the upper note with the keys until it is in tune; where it is left counts."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from intonation.listening.adjustment import TunedNote
from intonation.listening.drills.which_way import INTERVALS_ASKED
from intonation.listening.setting import PLACES, EarSetting, roved, some_note
from intonation.listening.trials import ORGAN, Condition, HeardTone, Trial
from intonation.pitch.cents import shifted_hz

COARSE_CENTS, FINE_CENTS = 5.0, 0.5
"""What one key moves the note by. Fine steps are smaller than any listener's threshold."""

_NEAREST_START_CENTS, _FARTHEST_START_CENTS = 15.0, 40.0
_FARTHEST_CENTS = 60.0
_STRAY = 1.19
"""Largest factor by which the steps differ from trial to trial."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteToTune:
    """A note over a drone while it is being tuned.

    Parameters
    ----------
    condition
        Interval and register.
    drone
        The tone that stays.
    in_tune
        The tone as it would be in tune.
    start_cents, cents
        How far off it was at the start and is now.
    steps_cents
        By how much one coarse and one fine step move it. They differ a little from trial to trial,
        so that counting keys leads nowhere.
    """

    condition: Condition
    drone: HeardTone
    in_tune: HeardTone
    start_cents: float
    cents: float
    steps_cents: tuple[float, float]

    @property
    def tone(self) -> HeardTone:
        """The tone as it sounds now."""
        return replace(self.in_tune, hz=shifted_hz(self.in_tune.hz, cents=self.cents))

    def turned(self, *, coarse: int = 0, fine: int = 0) -> "NoteToTune":
        """Return the note after some keys, positive for up; it never leaves a semitone."""
        moved = self.cents + coarse * self.steps_cents[0] + fine * self.steps_cents[1]
        return replace(self, cents=min(max(moved, -_FARTHEST_CENTS), _FARTHEST_CENTS))

    def heard(self, seconds: float) -> Trial:
        """Return the note with its drone as it stands, to be sounded for so long."""
        return Trial(
            condition=self.condition,
            tones=tuple(
                replace(tone, start_s=0.0, duration_s=seconds) for tone in (self.drone, self.tone)
            ),
            choices=(),
            right="",
            step_cents=self.cents,
            deviation_cents=self.cents,
        )

    def left(self) -> TunedNote:
        """Return the setting, once the listener is content."""
        return TunedNote(start_cents=self.start_cents, final_cents=self.cents)


@dataclass(frozen=True, slots=True)
class TuneIt:
    """Makes notes to tune, begun above and below in turn."""

    setting: EarSetting
    name: ClassVar[str] = "tune it"

    def conditions(self) -> tuple[Condition, ...]:
        """Return every interval in either register."""
        return tuple(
            Condition(drill=self.name, interval=interval, register=register)
            for interval in INTERVALS_ASKED
            for register in ("low", "high")
        )

    def note_to_tune(
        self, condition: Condition, rng: np.random.Generator, *, before: Sequence[TunedNote] = ()
    ) -> NoteToTune:
        """Return the next note to tune.

        Parameters
        ----------
        condition
            Interval and register.
        rng
            Draws the note and where it starts.
        before
            Settings of this condition so far: the side with fewer starts comes next.
        """
        interval = condition.interval or "unison"
        midi = some_note(self.setting.notes_midi(condition.register), rng)
        drone_hz, in_tune_hz = self.setting.pair_hz(midi - PLACES[interval][0], interval)
        start = _side(before, rng) * rng.uniform(_NEAREST_START_CENTS, _FARTHEST_START_CENTS)
        timbre = self.setting.timbres[condition.register]
        stray = float(_STRAY ** rng.uniform(-1.0, 1.0))
        return NoteToTune(
            condition=condition,
            drone=roved(drone_hz, ORGAN, 0.0, 1.0, rng),
            in_tune=roved(in_tune_hz, timbre, 0.0, 1.0, rng),
            start_cents=float(start),
            cents=float(start),
            steps_cents=(COARSE_CENTS * stray, FINE_CENTS * stray),
        )


def _side(before: Sequence[TunedNote], rng: np.random.Generator) -> float:
    above = sum(note.start_cents > 0 for note in before)
    below = len(before) - above
    if above == below:
        return float(rng.choice((-1.0, 1.0)))
    return 1.0 if above < below else -1.0
