"""Find the culprit: one note of a chord is off; the question is which, and which way."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from intonation.listening.drills.triads import CHORDS, PLACE_NAMES, chord_hz
from intonation.listening.questions import Question, right_or_wrong
from intonation.listening.setting import EarSetting, roved, some_note, some_sign
from intonation.listening.trials import Condition, Trial
from intonation.pitch.cents import shifted_hz

CHORD_S = 3.0
_DIRECTIONS = ("flat", "sharp")


@dataclass(frozen=True, slots=True)
class FindTheCulprit:
    """Makes trials in which a consort of recorders sounds a chord with one note off."""

    setting: EarSetting
    name: ClassVar[str] = "find the culprit"

    def conditions(self) -> tuple[Condition, ...]:
        """Return everything that can be measured."""
        return tuple(
            Condition(drill=self.name, interval=chord, register=register)
            for chord in CHORDS
            for register in ("low", "high")
        )

    def question(self, condition: Condition) -> Question:
        """Return what is asked: note and direction together."""
        return right_or_wrong(2 * len(CHORDS[condition.interval or "major chord"]))

    def trial(self, condition: Condition, step_cents: float, rng: np.random.Generator) -> Trial:
        """Return a trial in which one note, drawn by chance, is off by so many cents."""
        chord = condition.interval or "major chord"
        top_midi = some_note(self.setting.notes_midi(condition.register), rng)
        span = 12 if "octave" in CHORDS[chord] else 7
        hz = [*chord_hz(self.setting, chord, root_midi=top_midi - span)]
        culprit = int(rng.integers(len(hz)))
        cents = some_sign(rng) * abs(step_cents)
        hz[culprit] = shifted_hz(hz[culprit], cents=cents)
        timbre = self.setting.timbres[condition.register]
        return Trial(
            condition=condition,
            tones=tuple(roved(each, timbre, 0.0, CHORD_S, rng) for each in hz),
            choices=tuple(
                f"{place} {way}" for place in PLACE_NAMES[: len(hz)] for way in _DIRECTIONS
            ),
            right=f"{PLACE_NAMES[culprit]} {_DIRECTIONS[cents > 0]}",
            step_cents=step_cents,
            deviation_cents=cents,
        )
