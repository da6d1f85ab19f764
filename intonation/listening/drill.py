"""What every drill that measures a threshold can do, and the drills by name."""

from collections.abc import Sequence
from typing import Protocol

import numpy as np

from intonation.errors import SettingsError
from intonation.language import name_in_words, say
from intonation.listening.drills.culprit import FindTheCulprit
from intonation.listening.drills.difference_tone import HearTheDifferenceTone
from intonation.listening.drills.remember import RememberAPitch
from intonation.listening.drills.tune_note import SlowTune, WhichNote
from intonation.listening.drills.which_in_tune import WhichIsInTune
from intonation.listening.drills.which_way import WhichWay
from intonation.listening.questions import Question
from intonation.listening.setting import EarSetting
from intonation.listening.trials import Condition, Trial


class HasConditions(Protocol):
    """Anything that is practised in various intervals and registers."""

    @property
    def name(self) -> str:
        """Word by which commands and the record know it."""

    def conditions(self) -> tuple[Condition, ...]:
        """Return everything that can be practised, in the order in which to begin."""


class Drill(HasConditions, Protocol):
    """A maker of trials. It keeps nothing: every call stands for itself."""

    def question(self, condition: Condition) -> Question:
        """Return what is asked."""

    def trial(self, condition: Condition, step_cents: float, rng: np.random.Generator) -> Trial:
        """Return a trial of a difficulty in cents; chance draws the rest."""


def drills(
    setting: EarSetting, *, tunes: Sequence[SlowTune] = (), versions: int = 2
) -> dict[str, Drill]:
    """Return every drill by name.

    Parameters
    ----------
    setting
        Where they sound.
    tunes
        For the drill with tunes, which is there only if there are some.
    versions
        How many are compared in "which is in tune", two or three.
    """
    every: list[Drill] = [
        WhichWay(setting),
        WhichIsInTune(setting, versions),
        FindTheCulprit(setting),
        HearTheDifferenceTone(setting),
        RememberAPitch(setting),
    ]
    if tunes:
        every.append(WhichNote(setting, tuple(tunes)))
    return {drill.name: drill for drill in every}


def conditions_named(
    drill: HasConditions, *, interval: str | None = None, register: str | None = None
) -> tuple[Condition, ...]:
    """Return the conditions of a drill that have this interval and register.

    Raises
    ------
    SettingsError
        If there is none; the sentence says what there is.
    """
    every = drill.conditions()
    chosen = tuple(
        each
        for each in every
        if interval in (None, each.interval) and register in (None, each.register)
    )
    if chosen:
        return chosen
    intervals = ", ".join(dict.fromkeys(str(each.interval) for each in every if each.interval))
    wanted = " in the ".join(str(word) for word in (interval, register) if word)
    raise SettingsError(
        say(
            'The drill "{drill}" has nothing for {wanted}.',
            drill=name_in_words(drill.name),
            wanted=wanted,
        ),
        say("Choose one of {intervals}.", intervals=intervals or say("its registers, low or high")),
    )
