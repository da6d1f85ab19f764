"""An ordinary setting for the ear drills, and blocks that are played to simulated listeners."""

from collections.abc import Mapping
from typing import Protocol

import numpy as np

from intonation.listening.block import Block, BlockResult
from intonation.listening.drills.tune_note import SlowTune, TuneTone
from intonation.listening.estimate import EarEstimate
from intonation.listening.prior import UNKNOWN_LISTENER, Prior
from intonation.listening.questions import sharp_or_flat
from intonation.listening.setting import EarSetting
from intonation.listening.simulated_listener import SimulatedListener
from intonation.listening.threshold import (
    belief_after,
    belief_before,
    estimate,
    next_deviation_cents,
)
from intonation.listening.trials import Trial
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered

EQUAL = tempered(temperament_named("equal"), a4_hz=440.0)
ALTO_EAR = EarSetting(tuning=EQUAL, low_midi=range(67, 77), high_midi=range(77, 87))

FALLING_FOURTH = SlowTune(
    name="a falling fourth",
    melody=tuple(
        TuneTone(hz=EQUAL.hz(midi), start_s=float(at), end_s=at + 1.0)
        for at, midi in enumerate((77, 76, 74, 72))
    ),
    backing=(TuneTone(hz=EQUAL.hz(53), start_s=0.0, end_s=4.0),),
)


class Listener(Protocol):
    def answer(self, trial: Trial, rng: np.random.Generator) -> str: ...


def played(block: Block, listener: Listener, rng: np.random.Generator) -> BlockResult:
    """Return what a block comes to with a listener who answers until it is over."""
    while block.trial is not None:
        block.answered(listener.answer(block.trial, rng))
    return block.result()


def sharp_or_flat_results(
    listener: SimulatedListener,
    *,
    after: tuple[int, ...],
    rng: np.random.Generator,
    prior: Prior = UNKNOWN_LISTENER,
) -> Mapping[int, EarEstimate]:
    """Return the estimates after some numbers of answers to "sharp or flat?" alone."""
    belief = belief_before(sharp_or_flat(), prior)
    found = {}
    for count in range(1, max(after) + 1):
        cents = next_deviation_cents(belief, rng)
        heard_cents = rng.normal(cents - listener.bias_cents, listener.blur_cents)
        lapsed = rng.random() < listener.lapses
        first = bool(rng.random() < 0.5) if lapsed else bool(heard_cents > 0)
        belief = belief_after(belief, deviation_cents=cents, first=first)
        if count in after:
            found[count] = estimate(belief)
    return found
