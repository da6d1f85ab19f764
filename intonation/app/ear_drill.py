"""An ear drill in the making: from what was chosen to a block, and from a trial to its sound."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from intonation.app.ear_record import EarRecord
from intonation.listening.block import Block
from intonation.listening.drill import HasConditions, conditions_named, drills
from intonation.listening.drills.tune_it import NoteToTune, TuneIt
from intonation.listening.drills.tune_note import SlowTune
from intonation.listening.stimuli import SAMPLE_RATE_HZ, rendered
from intonation.listening.trials import Condition, Trial
from intonation.practice.ear import ear_setting_of, slow_tunes_of
from intonation.practice.ear_block import block_for, conditions_for, drill_named
from intonation.practice.ear_choices import EarChoices
from intonation.practice.settings import PracticeSettings

Samples = NDArray[np.float32]

BEFORE_S = 0.6
"""Silence before a trial, in which the answer before it fades from the ear (design judgement)."""


@lru_cache(maxsize=4)
def _tunes(settings: PracticeSettings) -> tuple[SlowTune, ...]:
    return slow_tunes_of(settings)


def drill_intervals(settings: PracticeSettings) -> dict[str, Sequence[str]]:
    """Return what each drill can be about, by its name.

    Raises
    ------
    SettingsError
        If there is no such instrument or temperament.
    """
    setting = ear_setting_of(settings)
    questions: dict[str, HasConditions] = {**drills(setting, tunes=_tunes(settings))}
    every = questions | {TuneIt.name: TuneIt(setting)}
    return {
        name: tuple(dict.fromkeys(each.interval for each in drill.conditions() if each.interval))
        for name, drill in every.items()
    }


def block_of(
    choices: EarChoices, settings: PracticeSettings, record: EarRecord, rng: np.random.Generator
) -> Block:
    """Return a block of what was chosen; this may take a moment.

    Raises
    ------
    IntonationError
        If the record cannot be read, or there is no such thing to listen to.
    """
    drill = drill_named(
        ear_setting_of(settings),
        choices.drill,
        tunes=_tunes(settings),
        versions=choices.versions,
    )
    known = record.known(settings.player)
    register = choices.one_register if len({c.register for c in drill.conditions()}) > 1 else None
    conditions = conditions_for(
        drill, known, today=record.today, interval=choices.interval, register=register
    )
    return block_for(
        drill,
        known,
        conditions,
        rng=rng,
        length_s=60.0 * choices.minutes,
        feedback=choices.feedback,
    )


def conditions_to_tune(choices: EarChoices, drill: TuneIt) -> tuple[Condition, ...]:
    """Return what is tuned in a block: what was chosen, or the clearest intervals."""
    offered = conditions_named(drill, interval=choices.interval, register=choices.one_register)
    return offered if choices.interval else offered[:4]


def sound_of(trial: Trial, rng: np.random.Generator) -> Samples:
    """Return the samples of a trial after a moment of silence."""
    silence = np.zeros(round(BEFORE_S * SAMPLE_RATE_HZ), dtype=np.float32)
    return np.concatenate((silence, rendered(trial, rng)))


def sound_to_tune(note: NoteToTune, rng: np.random.Generator, *, seconds: float) -> Samples:
    """Return a note to tune as it stands, with its drone, for some seconds."""
    return rendered(note.heard(seconds), rng)
