"""Which is in tune: two or three versions of an interval or chord, of which one is pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from intonation.listening.drills.triads import CHORDS, chord_hz
from intonation.listening.drills.versions import (
    VERSION_S,
    choices_of,
    joined,
    version_starts_s,
    versions_cents,
)
from intonation.listening.drills.which_way import INTERVALS_ASKED
from intonation.listening.questions import Question, right_or_wrong
from intonation.listening.setting import PLACES, EarSetting, beats_hz, roved, some_note
from intonation.listening.trials import ORGAN, Condition, HeardTone, Timbre, Trial
from intonation.pitch.cents import shifted_hz

_CHORDS_ASKED = ("major chord", "minor chord")


@dataclass(frozen=True, slots=True)
class WhichIsInTune:
    """Makes trials whose cue is the beating of the versions that are off."""

    setting: EarSetting
    versions: int = 2
    name: ClassVar[str] = "which is in tune"

    def conditions(self) -> tuple[Condition, ...]:
        """Return everything that can be measured."""
        return tuple(
            Condition(drill=self.name, interval=what, register=register)
            for what in (*INTERVALS_ASKED, *_CHORDS_ASKED)
            for register in ("low", "high")
        )

    def question(self, condition: Condition) -> Question:  # noqa: ARG002 the same for all
        """Return what is asked."""
        return right_or_wrong(self.versions)

    def trial(self, condition: Condition, step_cents: float, rng: np.random.Generator) -> Trial:
        """Return a trial in which all versions but one are off by so many cents."""
        what = condition.interval or "unison"
        midi = some_note(self.setting.notes_midi(condition.register), rng)
        in_tune_hz = self._in_tune_hz(what, midi)
        moved = 1 if what in CHORDS else len(in_tune_hz) - 1
        timbre = self.setting.timbres[condition.register]
        right, cents = versions_cents(self.versions, step_cents, rng)
        starts_s = version_starts_s(self.versions)

        def version(start_s: float, off_cents: float) -> Sequence[HeardTone]:
            hz = [*in_tune_hz]
            hz[moved] = shifted_hz(hz[moved], cents=off_cents)
            return _sounding(hz, timbre, start_s, rng)

        off_cents = max(cents, key=abs)
        beating = (in_tune_hz[0], shifted_hz(in_tune_hz[moved], cents=off_cents))
        return Trial(
            condition=condition,
            tones=joined(version, starts_s, cents),
            choices=choices_of(self.versions),
            right=str(right + 1),
            step_cents=abs(off_cents),
            deviation_cents=off_cents,
            version_starts_s=starts_s,
            beats_hz=beats_hz(*beating, interval=CHORDS[what][1] if what in CHORDS else what),
        )

    def _in_tune_hz(self, what: str, midi: int) -> tuple[float, ...]:
        if what in CHORDS:
            return chord_hz(self.setting, what, root_midi=midi - 7)
        return self.setting.pair_hz(midi - PLACES[what][0], what)


def _sounding(
    hz: Sequence[float], timbre: Timbre, start_s: float, rng: np.random.Generator
) -> list[HeardTone]:
    end_s = start_s + VERSION_S
    lowest = roved(hz[0], ORGAN, start_s, end_s, rng)
    return [lowest, *(roved(each, timbre, start_s, end_s, rng) for each in hz[1:])]
