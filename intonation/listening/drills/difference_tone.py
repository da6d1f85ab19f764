"""Hear the difference tone: the low note that two high ones make should fit as their root."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from intonation.listening.drills.versions import (
    choices_of,
    joined,
    version_starts_s,
    versions_cents,
)
from intonation.listening.questions import Question, right_or_wrong
from intonation.listening.setting import PLACES, EarSetting, roved, some_note
from intonation.listening.trials import ORGAN, Condition, HeardTone, Trial
from intonation.pitch.cents import shifted_hz
from intonation.pitch.difference_tones import difference_tone_error_cents, place_below

INTERVALS_ASKED = ("fifth", "fourth", "major third", "minor third", "major sixth")
DEMONSTRATION_CENTS = 10.0

_ROOT_ALONE_S = 0.7
_PAIR_S = 1.8
_VERSION_S = _ROOT_ALONE_S + _PAIR_S
_HIGHEST_STEPS = 7


@dataclass(frozen=True, slots=True)
class HearTheDifferenceTone:
    """Makes trials in which the root is given, then two high notes that should make it sound."""

    setting: EarSetting
    name: ClassVar[str] = "difference tone"

    def conditions(self) -> tuple[Condition, ...]:
        """Return everything that can be measured; only high notes make a difference tone heard."""
        return tuple(
            Condition(drill=self.name, interval=interval, register="high")
            for interval in INTERVALS_ASKED
        )

    def question(self, condition: Condition) -> Question:  # noqa: ARG002 the same for all
        """Return what is asked: in which of two versions the difference tone fits."""
        return right_or_wrong(2)

    def trial(self, condition: Condition, step_cents: float, rng: np.random.Generator) -> Trial:
        """Return a trial in which the upper note of one version is off by so many cents."""
        right, cents = versions_cents(2, step_cents, rng)
        return self._trial(condition, right, cents, rng)

    def demonstration(self, condition: Condition, rng: np.random.Generator) -> Trial:
        """Return a pure version, and one that is off by ten cents, to be told what to hear."""
        return self._trial(condition, 0, (0.0, DEMONSTRATION_CENTS), rng)

    def _trial(
        self, condition: Condition, right: int, cents: Sequence[float], rng: np.random.Generator
    ) -> Trial:
        interval = condition.interval or "fifth"
        ratio = PLACES[interval][1]
        lower_midi = some_note(self.setting.notes_midi("high")[:_HIGHEST_STEPS], rng)
        lower_hz = self.setting.tuning.hz(lower_midi)
        upper_hz = lower_hz * float(ratio)  # only a pure interval has a root to fit
        root_hz = lower_hz * float(place_below(ratio))
        timbre = self.setting.timbres["high"]
        starts_s = version_starts_s(2, version_s=_VERSION_S)

        def version(start_s: float, off_cents: float) -> Sequence[HeardTone]:
            pair_s, end_s = start_s + _ROOT_ALONE_S, start_s + _VERSION_S
            return (
                roved(root_hz, ORGAN, start_s, pair_s, rng),
                roved(lower_hz, timbre, pair_s, end_s, rng),
                roved(shifted_hz(upper_hz, cents=off_cents), timbre, pair_s, end_s, rng),
            )

        off_cents = max(cents, key=abs)
        off_hz = shifted_hz(upper_hz, cents=off_cents)
        return Trial(
            condition=condition,
            tones=joined(version, starts_s, cents),
            choices=choices_of(2),
            right=str(right + 1),
            step_cents=abs(off_cents),
            deviation_cents=off_cents,
            version_starts_s=starts_s,
            difference_tone_cents=difference_tone_error_cents(lower_hz, off_hz, ratio=ratio),
        )
