"""The fit of a large store: sizes from a few well-checked pairs, parts from all of them."""

from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.attribution import Progress, sized, unwatched
from intonation.diagnosis.bending import Bending, bending_of
from intonation.diagnosis.disagreeing_days import PlayedNote, disagreements
from intonation.diagnosis.effects import Setting
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.magnitudes import CENTS_PER_CELSIUS, FIXED, log_size_precision
from intonation.diagnosis.pair_information import pair_information
from intonation.diagnosis.parts import Component, Interval, Parts, interval, notes_of
from intonation.diagnosis.pooled import PooledPair, pooled_parts
from intonation.diagnosis.readings import Array, Numbers, Readings

_PAIRS_FOR_SIZES = 3
_READINGS_FOR_SIZES = 120
_WARM_MINUTES = 6.0


@dataclass(frozen=True, slots=True)
class StoreFit:
    """A fitted store: what went in, how the notes bend, and every pair's parts.

    ``doubt`` has, for notes whose days contradict each other, the variance between these.
    """

    evidence: Evidence
    bending: Bending
    pairs: tuple[PooledPair, ...]
    doubt: dict[PlayedNote, float]

    def contradicted_notes(self, pair: PooledPair) -> frozenset[int]:
        """Return the notes of a pair of which half of the days, or more, lie apart."""
        played = ((pair.player, pair.instrument, note) for note in pair.notes)
        return frozenset(place[2] for place in played if place in self.doubt)

    def parts_of(self, pair: PooledPair) -> Parts:
        """Return the parts of a pair, as from a fit of few readings."""
        axes = self.evidence.axes
        component = self._doubted(pair)
        return Parts(
            axes.players[pair.player],
            axes.instruments[pair.instrument],
            tuple(axes.notes[note] for note in pair.notes),
            (component,),
            notes_of(component),
        )

    def _doubted(self, pair: PooledPair) -> Component:
        """Return the parts, wider where days disagree: nobody knows who changed, or when."""
        places = [(pair.player, pair.instrument, note) for note in pair.notes]
        more = np.array([self.doubt.get(place, 0.0) for place in places])
        if not more.any():
            return pair.component
        wider = np.diag(np.concatenate([more, np.zeros(len(more)), more]))
        return replace(pair.component, covariance=pair.component.covariance + wider)

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
    log_size = _sizes(evidence, bending)
    progress(0.4)
    setting = Setting()
    information = pair_information(evidence, bending, log_size=log_size, setting=setting)
    progress(0.6)
    pairs = pooled_parts(
        information, axes=evidence.axes, bending=bending, log_size=log_size, setting=setting
    )
    doubt = disagreements(evidence, bending, log_size=log_size)
    progress(1.0)
    return StoreFit(evidence, bending, tuple(pairs), doubt)


def _sizes(evidence: Evidence, bending: Bending) -> Array:
    """Return mean log sizes, as estimated from the pairs with the most careful tones."""
    seen = evidence.readings
    pair = seen.player * len(evidence.axes.instruments) + seen.instrument
    careful = np.bincount(pair, weights=seen.exact + seen.middle)
    best = np.argsort(-careful, kind="stable")[:_PAIRS_FOR_SIZES]
    estimated = [
        sized(_some_of(evidence, np.flatnonzero(pair == one)), bending=bending).log_size
        for one in best
        if careful[one] > 0
    ]
    return np.mean(estimated, axis=0) if estimated else np.zeros(len(log_size_precision()))


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
