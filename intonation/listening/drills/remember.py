"""Remember a pitch: after a silence it comes again, the same, sharp or flat."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from intonation.listening.questions import Question, right_or_wrong
from intonation.listening.setting import EarSetting, roved, some_note
from intonation.listening.trials import Condition, Trial
from intonation.pitch.cents import shifted_hz

CHOICES = ("flat", "same", "sharp")
SILENCE_S = 4.0
_TONE_S = 1.0


@dataclass(frozen=True, slots=True)
class RememberAPitch:
    """Makes trials in which the second tone is the same, sharp or flat, equally often."""

    setting: EarSetting
    silence_s: float = SILENCE_S
    name: ClassVar[str] = "remember"

    def conditions(self) -> tuple[Condition, ...]:
        """Return everything that can be measured."""
        return tuple(Condition(drill=self.name, register=register) for register in ("low", "high"))

    def question(self, condition: Condition) -> Question:  # noqa: ARG002 the same for all
        """Return what is asked.

        A listener who says "same" within half the step is right just as often as
        `right_or_wrong` has it for three choices, with twice the blur of one comparison.
        """
        return right_or_wrong(len(CHOICES))

    def trial(self, condition: Condition, step_cents: float, rng: np.random.Generator) -> Trial:
        """Return a trial whose second tone is the same, or off by so many cents either way."""
        side = int(rng.integers(-1, 2))
        midi = some_note(self.setting.notes_midi(condition.register), rng)
        hz = self.setting.tuning.hz(midi)
        again_s = _TONE_S + self.silence_s
        timbre = self.setting.timbres[condition.register]
        cents = side * abs(step_cents)
        return Trial(
            condition=condition,
            tones=(
                roved(hz, timbre, 0.0, _TONE_S, rng),
                roved(shifted_hz(hz, cents=cents), timbre, again_s, again_s + _TONE_S, rng),
            ),
            choices=CHOICES,
            right=CHOICES[side + 1],
            step_cents=step_cents,
            deviation_cents=cents,
        )
