"""The fit of a large store: sizes from a few well-checked pairs, parts from all of them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from intonation.diagnosis.attribution import (
    HABIT_SCALES,
    SETTINGS,
    Progress,
    attribution_of,
    sized,
    unwatched,
    with_habits,
)
from intonation.diagnosis.bending import Bending, bending_of
from intonation.diagnosis.disagreeing_days import PlayedNote, disagreements
from intonation.diagnosis.effects import Setting
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.magnitudes import CENTS_PER_CELSIUS, FIXED, log_size_precision
from intonation.diagnosis.pair_information import pair_information
from intonation.diagnosis.parts import WIDER, Component, Interval, Parts, interval, notes_of
from intonation.diagnosis.pooled import PooledPair, pooled_parts
from intonation.diagnosis.readings import Array, Numbers, Readings

_PAIRS_FOR_SIZES = 3
_READINGS_FOR_SIZES = 120
_FEW_PAIRS, _FEW_READINGS = 60, 150_000
"""A larger store is not averaged over guesses: many players tell what one cannot."""
_WARM_MINUTES = 6.0


@dataclass(frozen=True, slots=True)
class StoreFit:
    """A fitted store: what went in, how the notes bend, and every pair's parts.

    ``doubt`` has, for notes whose days contradict each other, the variance between these.
    """

    evidence: Evidence
    bending: Bending
    pairs: tuple[PooledPair, ...]
    components: dict[tuple[int, int], tuple[Component, ...]]
    doubt: dict[PlayedNote, float]

    def contradicted_notes(self, pair: PooledPair) -> frozenset[int]:
        """Return the notes of a pair of which half of the days, or more, lie apart."""
        played = ((pair.player, pair.instrument, note) for note in pair.notes)
        return frozenset(place[2] for place in played if place in self.doubt)

    def checks_of(self, pair: PooledPair) -> Evidence:
        """Return the best-checked sittings of a pair: few enough to plan the next tones by."""
        seen = self.evidence.readings
        mine = (seen.player == pair.player) & (seen.instrument == pair.instrument)
        return _some_of(self.evidence, np.flatnonzero(mine))

    def parts_of(self, pair: PooledPair) -> Parts:
        """Return the parts of a pair, as from a fit of few readings."""
        axes = self.evidence.axes
        components = self._doubted(pair)
        return Parts(
            axes.players[pair.player],
            axes.instruments[pair.instrument],
            tuple(axes.notes[note] for note in pair.notes),
            components,
            notes_of(components),
        )

    def _doubted(self, pair: PooledPair) -> tuple[Component, ...]:
        """Return the parts, wider where days disagree: nobody knows who changed, or when."""
        components = self.components[pair.player, pair.instrument]
        places = [(pair.player, pair.instrument, note) for note in pair.notes]
        more = np.array([self.doubt.get(place, 0.0) for place in places])
        if not more.any():
            return components
        wider = np.diag(np.concatenate([more, np.zeros(len(more)), more]))
        return tuple(replace(c, covariance=c.covariance + wider) for c in components)

    def pitch_of(self, pair: PooledPair) -> Interval:
        """Return a pair's mean deviation, warm and at 20 degrees Celsius, over its sittings."""
        seen = self.evidence.readings
        mine = (seen.player == pair.player) & (seen.instrument == pair.instrument)
        own = seen.where(np.flatnonzero(mine))
        usual = ~own.middle & ~own.matched
        chosen = usual if usual.any() else np.ones(len(own), dtype=bool)
        warm = chosen & (np.nan_to_num(own.minutes, nan=_WARM_MINUTES) >= _WARM_MINUTES)
        readings = own.where(warm if warm.any() else chosen)
        warmer = CENTS_PER_CELSIUS * np.nan_to_num(readings.celsius - 20.0)
        _, sitting = np.unique(readings.sitting, return_inverse=True)
        count = np.bincount(sitting)
        means = np.bincount(sitting, weights=readings.cents - warmer) / count
        error = np.hypot(FIXED.sitting_cents, means.std()) / np.sqrt(len(means))
        return interval(float(means.mean()), float(error))


def store_fit_of(evidence: Evidence, *, progress: Progress = unwatched) -> StoreFit:
    """Fit any number of players, instruments and readings.

    Parameters
    ----------
    evidence
        What was measured.
    progress
        Called between steps; an exception from it cancels.
    """
    bending = bending_of(evidence)
    guesses = _guesses(evidence, bending)
    progress(0.4)
    found: list[list[PooledPair]] = []
    for done, guess in enumerate(guesses):
        found.append(_pooled(evidence, bending, guess))
        progress(0.4 + 0.5 * (done + 1) / len(guesses))
    doubt = disagreements(evidence, bending, log_size=guesses[0].log_size)
    progress(1.0)
    return StoreFit(evidence, bending, tuple(found[0]), _mixed(found, guesses), doubt)


@dataclass(frozen=True, slots=True)
class _Guess:
    """What is taken for granted once, and how probable that is."""

    setting: Setting
    log_size: Array
    weight: float


def _pooled(evidence: Evidence, bending: Bending, guess: _Guess) -> list[PooledPair]:
    log_size, setting = guess.log_size, guess.setting
    information = pair_information(evidence, bending, log_size=log_size, setting=setting)
    return pooled_parts(
        information, axes=evidence.axes, bending=bending, log_size=log_size, setting=setting
    )


def _mixed(
    found: Sequence[Sequence[PooledPair]], guesses: Sequence[_Guess]
) -> dict[tuple[int, int], tuple[Component, ...]]:
    """Return the parts of every pair as a mixture over the guesses."""
    wider = WIDER if len(guesses) > 1 else 1.0
    return {
        (each[0].player, each[0].instrument): tuple(
            replace(one.component, weight=guess.weight, covariance=wider * one.component.covariance)
            for one, guess in zip(each, guesses, strict=True)
        )
        for each in zip(*found, strict=True)
    }


def _guesses(evidence: Evidence, bending: Bending) -> list[_Guess]:
    """Return what to take for granted: sizes as in the pairs with the most careful tones.

    A small store is averaged over all that its notes cannot tell, by the evidence of those pairs;
    in a large one many players tell it, and one guess is enough.
    """
    seen = evidence.readings
    pair = seen.player * len(evidence.axes.instruments) + seen.instrument
    careful = np.bincount(pair, weights=seen.exact + seen.middle)
    best = np.argsort(-careful, kind="stable")[:_PAIRS_FOR_SIZES]
    chosen = [_some_of(evidence, np.flatnonzero(pair == one)) for one in best if careful[one] > 0]
    if not chosen:
        return [_Guess(Setting(), np.zeros(len(log_size_precision())), 1.0)]
    if len(np.unique(pair)) > _FEW_PAIRS or len(seen) > _FEW_READINGS:
        sizes = [sized(some, bending=bending).log_size for some in chosen]
        return [_Guess(Setting(), np.mean(sizes, axis=0), 1.0)]
    fits = [attribution_of(some) for some in chosen]
    log_size = np.mean([fit.log_size for fit in fits], axis=0)
    weights = np.mean([[node.weight for node in fit.nodes] for fit in fits], axis=0)
    return [
        _Guess(setting, with_habits(log_size, scale=scale), float(weight))
        for (setting, (scale, _)), weight in zip(
            product(SETTINGS, HABIT_SCALES), weights, strict=True
        )
    ]


def _some_of(evidence: Evidence, chosen: Numbers) -> Evidence:
    """Return the best-checked sittings of a pair."""
    readings = evidence.readings.where(chosen)
    careful = np.bincount(readings.sitting, weights=readings.exact + readings.middle)
    order = np.lexsort((np.arange(len(readings)), -careful[readings.sitting]))
    return replace(evidence, readings=_renumbered(readings.where(order[:_READINGS_FOR_SIZES])))


def _renumbered(readings: Readings) -> Readings:
    """Return readings whose sittings and places are numbered without gaps."""

    def without_gaps(index: Numbers) -> Numbers:
        return np.unique(index, return_inverse=True)[1].astype(np.intp)

    return replace(
        readings,
        sitting=without_gaps(readings.sitting),
        position=without_gaps(readings.position),
        room=without_gaps(readings.room),
        day=without_gaps(readings.day),
    )
