"""A block of an ear drill for one listener: what is due, from what earlier answers have told."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

import numpy as np

from intonation.errors import SettingsError
from intonation.language import say
from intonation.listening.adjustment import AdjustmentResult
from intonation.listening.block import USUAL_S, Block, Feedback, Method
from intonation.listening.drill import Drill, HasConditions, conditions_named, drills
from intonation.listening.drills.tune_note import SlowTune
from intonation.listening.estimate import EarEstimate
from intonation.listening.history import (
    KeptAnswer,
    KeptTuning,
    day_results,
    day_tunings,
    latest_estimates,
    practised,
    prior_for,
)
from intonation.listening.plan import Practised, due_on, next_conditions
from intonation.listening.setting import EarSetting
from intonation.listening.trials import Condition


@dataclass(frozen=True, slots=True)
class KnownEar:
    """What earlier answers have told of each condition, and how notes were tuned at last."""

    practised: Mapping[Condition, Practised]
    estimates: Mapping[Condition, EarEstimate]
    tunings: Mapping[Condition, AdjustmentResult | None] = field(default_factory=dict)


NOTHING_KNOWN = KnownEar({}, {})


def known_of(answers: Sequence[KeptAnswer], tuned: Sequence[KeptTuning] = ()) -> KnownEar:
    """Return what the answers of one listener tell, and the notes that they have tuned."""
    results, tunings = day_results(answers), day_tunings(tuned)
    return KnownEar(
        practised(results, tunings),
        latest_estimates(results),
        {each.condition: each.result for each in tunings},
    )


def drill_named(
    setting: EarSetting, name: str, *, tunes: Sequence[SlowTune] = (), versions: int = 2
) -> Drill:
    """Return a drill by name.

    Raises
    ------
    SettingsError
        If there is none; the sentence names them all.
    """
    every = drills(setting, tunes=tunes, versions=versions)
    if name not in every:
        raise SettingsError(
            say('There is no drill "{name}".', name=name),
            say("Choose one of {every}.", every=", ".join(every)),
        )
    return every[name]


def conditions_for(
    drill: HasConditions,
    known: KnownEar,
    *,
    today: date,
    interval: str | None = None,
    register: str | None = None,
) -> tuple[Condition, ...]:
    """Return what to mix in a block: what was named, or else what is due, weak or new."""
    offered = conditions_named(drill, interval=interval, register=register)
    if interval is not None:
        return offered
    return next_conditions(offered, known.practised, today=today)


def days_until_due(
    known: KnownEar, conditions: Sequence[Condition], *, today: date
) -> tuple[tuple[Condition, int], ...]:
    """Return, for what was practised before, in how many days it is due again; 0 is today."""
    return tuple(
        (each, max(0, (due_on(known.practised[each].days) - today).days))
        for each in conditions
        if each in known.practised
    )


def block_for(
    drill: Drill,
    known: KnownEar,
    conditions: Sequence[Condition],
    *,
    rng: np.random.Generator,
    length_s: float = USUAL_S,
    feedback: Feedback = "after each answer",
    method: Method = "adaptive",
) -> Block:
    """Return a block that begins with what is known already."""
    return Block(
        drill,
        conditions,
        rng=rng,
        priors={each: prior_for(each, known.estimates) for each in conditions},
        length_s=length_s,
        feedback=feedback,
        method=method,
    )
