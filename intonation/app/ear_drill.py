"""An ear drill in the making: from what was chosen to a block, and from a trial to its sound."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from intonation.app.ear_record import EarRecord
from intonation.listening.block import Block
from intonation.listening.drill import Drill, HasConditions, conditions_named, drills
from intonation.listening.drills.difference_tone import HearTheDifferenceTone
from intonation.listening.drills.tune_it import NoteToTune, TuneIt
from intonation.listening.drills.tune_note import SlowTune
from intonation.listening.stimuli import SAMPLE_RATE_HZ, rendered
from intonation.listening.trials import Condition, Trial
from intonation.practice.ear import ear_setting_of, slow_tunes_of
from intonation.practice.ear_block import KnownEar, block_for, conditions_for, drill_named
from intonation.practice.ear_choices import EarChoices
from intonation.practice.settings import PracticeSettings

Samples = NDArray[np.float32]

EXAMPLE_CENTS = 25.0
"""Off by enough for most to hear it (design judgement)."""

_EXAMPLE_S = 3.0
BEFORE_S = 0.6
"""Silence before a trial, in which the answer before it fades from the ear (design judgement)."""


@lru_cache(maxsize=4)
def _tunes(settings: PracticeSettings) -> tuple[SlowTune, ...]:
    return slow_tunes_of(settings)


def _every_drill(settings: PracticeSettings, versions: int = 2) -> dict[str, HasConditions]:
    setting = ear_setting_of(settings)
    questions = drills(setting, tunes=_tunes(settings), versions=versions)
    return {**questions, TuneIt.name: TuneIt(setting)}


def drill_intervals(settings: PracticeSettings) -> dict[str, Sequence[str]]:
    """Return what each drill can be about, by its name.

    Raises
    ------
    SettingsError
        If there is no such instrument or temperament.
    """
    return {
        name: tuple(dict.fromkeys(each.interval for each in drill.conditions() if each.interval))
        for name, drill in _every_drill(settings).items()
    }


def conditions_of(
    choices: EarChoices, settings: PracticeSettings, known: KnownEar, *, today: date
) -> tuple[Condition, ...]:
    """Return what a block would practise: what was chosen, or what is due.

    Raises
    ------
    SettingsError
        If the drill has no such interval or register.
    """
    drill = _every_drill(settings)[choices.drill]
    register = choices.one_register if len({c.register for c in drill.conditions()}) > 1 else None
    return conditions_for(drill, known, today=today, interval=choices.interval, register=register)


def block_of(
    choices: EarChoices, settings: PracticeSettings, record: EarRecord, rng: np.random.Generator
) -> Block:
    """Return a block of what was chosen; this may take a moment.

    Raises
    ------
    IntonationError
        If the record cannot be read, or there is no such thing to listen to.
    """
    known = record.known(settings.player)
    return block_for(
        _drill(choices, settings),
        known,
        conditions_of(choices, settings, known, today=record.today),
        rng=rng,
        length_s=60.0 * choices.minutes,
        feedback=choices.feedback,
    )


def notes_to_tune(
    choices: EarChoices, settings: PracticeSettings, record: EarRecord
) -> tuple[Condition, ...]:
    """Return what is tuned in a block; this may take a moment, and may raise as `block_of`."""
    known = record.known(settings.player)
    return conditions_of(choices, settings, known, today=record.today)


@dataclass(frozen=True, slots=True, eq=False)
class Example:
    """A trial whose answer is told beforehand, so that one knows what to listen for."""

    trial: Trial
    samples: Samples


def example_of(
    choices: EarChoices, settings: PracticeSettings, rng: np.random.Generator
) -> Example:
    """Return an example of a drill; this may take a moment.

    Raises
    ------
    SettingsError
        If there is no such thing to listen to.
    """
    trial = _example(choices, settings, rng)
    return Example(trial, sound_of(trial, rng))


def _example(choices: EarChoices, settings: PracticeSettings, rng: np.random.Generator) -> Trial:
    drill = _every_drill(settings, choices.versions)[choices.drill]
    condition = conditions_named(drill, interval=choices.interval)[0]
    if isinstance(drill, TuneIt):
        return replace(drill.note_to_tune(condition, rng), cents=0.0).heard(_EXAMPLE_S)
    if isinstance(drill, HearTheDifferenceTone):
        return drill.demonstration(condition, rng)
    return _drill(choices, settings).trial(condition, EXAMPLE_CENTS, rng)


def _drill(choices: EarChoices, settings: PracticeSettings) -> Drill:
    return drill_named(
        ear_setting_of(settings),
        choices.drill,
        tunes=_tunes(settings),
        versions=choices.versions,
    )


def sound_of(trial: Trial, rng: np.random.Generator) -> Samples:
    """Return the samples of a trial after a moment of silence."""
    silence = np.zeros(round(BEFORE_S * SAMPLE_RATE_HZ), dtype=np.float32)
    return np.concatenate((silence, rendered(trial, rng)))


def sound_to_tune(note: NoteToTune, rng: np.random.Generator, *, seconds: float) -> Samples:
    """Return a note to tune as it stands, with its drone, for some seconds."""
    return rendered(note.heard(seconds), rng)
