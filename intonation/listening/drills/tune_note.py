"""Which note of a tune was off: a slow melody over its backing, one note of it mistuned."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from intonation.listening.questions import Question, right_or_wrong
from intonation.listening.setting import EarSetting, roved, some_sign
from intonation.listening.trials import ORGAN, Condition, Trial
from intonation.pitch.cents import shifted_hz

_DETACHED_S = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class TuneTone:
    """One note of a tune or of its backing: frequency in hertz, and when it sounds."""

    hz: float
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SlowTune:
    """A tune in tune: the melody, of whose notes one is going to be off, and its backing."""

    name: str
    melody: tuple[TuneTone, ...]
    backing: tuple[TuneTone, ...]


@dataclass(frozen=True, slots=True)
class WhichNote:
    """Makes trials of the tunes that it is given."""

    setting: EarSetting
    tunes: tuple[SlowTune, ...]
    name: ClassVar[str] = "which note"

    def conditions(self) -> tuple[Condition, ...]:
        """Return everything that can be measured."""
        return tuple(Condition(drill=self.name, interval=tune.name) for tune in self.tunes)

    def question(self, condition: Condition) -> Question:
        """Return what is asked."""
        return right_or_wrong(len(self._tune(condition).melody))

    def trial(self, condition: Condition, step_cents: float, rng: np.random.Generator) -> Trial:
        """Return a trial in which one note, drawn by chance, is off by so many cents."""
        tune = self._tune(condition)
        off = int(rng.integers(len(tune.melody)))
        cents = some_sign(rng) * abs(step_cents)
        timbre = self.setting.timbres[condition.register]
        hz = [tone.hz for tone in tune.melody]
        hz[off] = shifted_hz(hz[off], cents=cents)
        melody = (
            roved(each, timbre, tone.start_s, tone.end_s - _DETACHED_S, rng)
            for each, tone in zip(hz, tune.melody, strict=True)
        )
        backing = (roved(tone.hz, ORGAN, tone.start_s, tone.end_s, rng) for tone in tune.backing)
        return Trial(
            condition=condition,
            tones=(*melody, *backing),
            choices=tuple(str(number) for number in range(1, len(hz) + 1)),
            right=str(off + 1),
            step_cents=step_cents,
            deviation_cents=cents,
        )

    def _tune(self, condition: Condition) -> SlowTune:
        return next(tune for tune in self.tunes if tune.name == condition.interval)
