"""Which way: a tone joins a drone, sharp or flat of where it should be."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from intonation.listening.questions import Question, sharp_or_flat
from intonation.listening.setting import PLACES, EarSetting, beats_hz, roved, some_note
from intonation.listening.trials import ORGAN, Condition, Trial
from intonation.pitch.cents import shifted_hz

INTERVALS_ASKED = (
    "unison",
    "octave",
    "fifth",
    "fourth",
    "major third",
    "minor third",
    "major sixth",
    "minor sixth",
)
_DRONE_ALONE_S = 0.7
_TOGETHER_S = 1.8


@dataclass(frozen=True, slots=True)
class WhichWay:
    """Makes trials in which the drone sounds first and the tone joins it."""

    setting: EarSetting
    name: ClassVar[str] = "which way"

    def conditions(self) -> tuple[Condition, ...]:
        """Return everything that can be measured, intervals that beat most clearly first."""
        return tuple(
            Condition(drill=self.name, interval=interval, register=register)
            for interval in INTERVALS_ASKED
            for register in ("low", "high")
        )

    def question(self, condition: Condition) -> Question:  # noqa: ARG002 the same for all
        """Return what is asked."""
        return sharp_or_flat()

    def trial(self, condition: Condition, step_cents: float, rng: np.random.Generator) -> Trial:
        """Return a trial in which the tone is off by exactly so many cents."""
        interval = condition.interval or "unison"
        midi = some_note(self.setting.notes_midi(condition.register), rng)
        drone_hz, in_tune_hz = self.setting.pair_hz(midi - PLACES[interval][0], interval)
        tone_hz = shifted_hz(in_tune_hz, cents=step_cents)
        end_s = _DRONE_ALONE_S + _TOGETHER_S
        timbre = self.setting.timbres[condition.register]
        return Trial(
            condition=condition,
            tones=(
                roved(drone_hz, ORGAN, 0.0, end_s, rng),
                roved(tone_hz, timbre, _DRONE_ALONE_S, end_s, rng),
            ),
            choices=("flat", "sharp"),
            right="sharp" if step_cents > 0 else "flat",
            step_cents=step_cents,
            deviation_cents=step_cents,
            beats_hz=beats_hz(drone_hz, tone_hz, interval=interval),
        )
