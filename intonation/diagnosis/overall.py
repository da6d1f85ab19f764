"""The instrument as a whole: its pitch, the window of its notes, its octaves."""

import numpy as np

from intonation.diagnosis.attribution import Attribution
from intonation.diagnosis.parts import Interval, Parts, interval
from intonation.diagnosis.readings import Array
from intonation.diagnosis.results import Octave, Overall

BREATH_WINDOW_CENTS = 20.0
"""Window that breath alone can cover (common practice, no source)."""
_DRAWS = 1500
_SEED = 12
_STRETCH = 1.2
"""The outermost notes are the least normal ones; so much wider covered them in simulation."""


def overall_of(parts: Parts, pitch: Interval) -> Overall:
    """Return the overall facts of a pair, given its overall pitch."""
    return Overall(pitch=pitch, window=_window(parts), octaves=_octaves(parts))


def overall_pitch(fit: Attribution, *, player: int, instrument: int) -> Interval:
    """Return the mean deviation of a pair's usual playing, warm and at 20 degrees Celsius."""
    chosen = (fit.ideal.player == player) & (fit.ideal.instrument == instrument)
    rows = len(fit.evidence.readings) + np.flatnonzero(chosen)
    means, variances, weights = [], [], []
    for node in fit.nodes:
        here = node.design.where(rows)
        average = here.pitch.mean(axis=0, keepdims=True)
        bent = float(here.bent_cents.mean())
        means.append(float(node.state.means(average)[0]) + bent)
        variances.append(float(node.state.covariance(average)[0, 0]))
        weights.append(node.weight)
    mean = float(np.dot(weights, means))
    spread = np.dot(weights, variances) + np.dot(weights, (np.array(means) - mean) ** 2)
    return interval(mean, float(np.sqrt(max(spread, 0.0))))


def _octaves(parts: Parts) -> tuple[Octave, ...]:
    index = {note.midi: i for i, note in enumerate(parts.notes)}
    found = []
    for low in sorted(index):
        if low + 12 in index:
            width = np.zeros((1, 3 * len(parts.notes)))
            width[0, index[low + 12]], width[0, index[low]] = 1.0, -1.0
            mean, sd = parts.mixed(width)
            found.append(Octave(low, low + 12, interval(float(mean[0]), float(sd[0]))))
    return tuple(found)


def _window(parts: Parts) -> Interval | None:
    count = len(parts.notes)
    if count < 2:
        return None
    # The same draws every time: a result must not change when it is asked for again.
    normal = np.random.default_rng(_SEED).standard_normal((_DRAWS, count))
    windows, weights = [], []
    for component in parts.components:
        values, vectors = np.linalg.eigh(component.covariance[:count, :count])
        # The symmetric root: signs of eigenvectors, which machines choose, must not matter.
        root = (vectors * np.sqrt(np.maximum(values, 0.0))) @ vectors.T
        drawn = component.mean[:count] + normal @ root
        windows.append(np.ptp(drawn, axis=1))
        weights.append(np.full(_DRAWS, component.weight / _DRAWS))
    return _summary(np.concatenate(windows), np.concatenate(weights))


def _summary(drawn: Array, weight: Array) -> Interval:
    order = np.argsort(drawn)
    below = np.cumsum(weight[order])
    low, high = (float(drawn[order][np.searchsorted(below, share)]) for share in (0.05, 0.95))
    mean = float(weight @ drawn)
    return Interval(mean, max(0.0, mean - _STRETCH * (mean - low)), mean + _STRETCH * (high - mean))
