"""Before and after: which notes of an instrument an adjustment changed, and which it did not.

Sessions after the adjustment get a change of each note as one more effect, so breath, warm-up,
fingers and microphone are controlled for as in the diagnosis. A change of all notes together cannot
be told from the day's pitch; it is integrated out. Most notes are expected to be unchanged: the
prior is a spike and a slab (Mitchell & Beauchamp 1988, J. Am. Stat. Assoc. 83:1023, from memory).
"""

import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from intonation.diagnosis.attribution import Attribution, Progress, attribution_of, unwatched
from intonation.diagnosis.evidence import Evidence, evidence_from
from intonation.diagnosis.magnitudes import FIXED
from intonation.diagnosis.parts import HALF_WIDTH_90, Interval, interval
from intonation.diagnosis.readings import Array
from intonation.heldnotes.row import HeldNoteRow

ChangeVerdict = Literal["changed", "unchanged", "cannot tell"]

NOTICEABLE_CENTS = 4.0
"""A change is one of more than this (our judgement)."""
FEWEST_NOTES = 3
"""Fewer notes cannot show what all of them share."""
WHOLE_COMPASS_NOTES = 12
"""More notes than this are not chosen ones, and most of them will be unchanged."""
LARGEST_ERROR_CENTS = 2.5
"""With a larger error a whole-compass comparison cannot tell a note's change."""
_SURE, _SURELY_NOT = 0.85, 0.1
_SPIKE_CENTS, _SLAB_CENTS = 1.2, 9.0
_WEIGHT_CHOSEN, _WEIGHT_WHOLE = 0.3, 0.12
_COMMON = np.arange(-60.0, 60.01, 0.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteChange:
    """What an adjustment did to one note.

    Parameters
    ----------
    midi
        The note.
    change
        After minus before in cents, relative to the change of all notes together.
    error_cents
        Standard deviation of the change, before what is expected of changes is taken into account.
    verdict
        In words.
    probability
        That the note changed noticeably.
    """

    midi: int
    change: Interval
    error_cents: float
    verdict: ChangeVerdict
    probability: float


def compare(
    rows: Iterable[HeldNoteRow],
    *,
    before: Collection[str],
    after: Collection[str],
    progress: Progress = unwatched,
) -> tuple[NoteChange, ...]:
    """Return what changed between sessions of one player on one instrument.

    Parameters
    ----------
    rows
        Held notes of the pair. Sessions that are neither before nor after (an earlier check) tell
        how the notes bend and what the player does.
    before, after
        Session names.
    progress
        Called with the share that is done; an exception from it cancels.
    """
    kept = list(rows)
    apart = evidence_from(kept, changed=after)
    columns, notes = _compared_notes(apart, before)
    if len(notes) < FEWEST_NOTES:
        return ()
    together = evidence_from(kept, changed=after, together=frozenset((*before, *after)))
    fits = [attribution_of(evidence, progress=progress) for evidence in (apart, together)]
    mean, covariance = _changes(fits, columns, notes)
    return _judged([apart.axes.notes[note].midi for note in notes], mean, covariance)


def _compared_notes(evidence: Evidence, before: Collection[str]) -> tuple[list[int], list[int]]:
    """Return the notes heard after the adjustment, and those of them that were heard before."""
    readings = evidence.readings
    names = [session for session, _, _ in evidence.axes.sittings]
    earlier = np.array([name in before for name in names], dtype=bool)[readings.sitting]
    after_notes = {*readings.note[readings.changed].tolist()}
    return sorted(after_notes), sorted(after_notes & {*readings.note[earlier].tolist()})


def _changes(
    fits: Sequence[Attribution], columns: list[int], notes: list[int]
) -> tuple[Array, Array]:
    """Return the likelihood of the notes' changes: where it peaks, and its covariance.

    The fits differ in what they take for granted; each counts by its evidence.
    """
    chosen = [columns.index(note) for note in notes]
    means, spreads, weights = [], [], []
    for fit, fit_weight in zip(fits, _weights(fits), strict=True):
        for node in fit.nodes:
            place = node.design.columns_named("passing change")
            picked = np.zeros((len(chosen), len(node.state.mean)))
            picked[np.arange(len(chosen)), place.start + np.array(chosen)] = 1.0
            mean, spread = _unshrunk(node.state.means(picked), node.state.covariance(picked))
            means.append(mean)
            spreads.append(spread)
            weights.append(fit_weight * node.weight)
    centre = np.asarray(np.average(means, axis=0, weights=weights), dtype=np.float64)
    between = [np.outer(mean - centre, mean - centre) for mean in means]
    both = np.average(np.array(spreads) + np.array(between), axis=0, weights=weights)
    return centre, np.asarray(both, dtype=np.float64)


def _unshrunk(mean: Array, covariance: Array) -> tuple[Array, Array]:
    """Return the likelihood's peak and covariance, given the posterior's: its prior taken out.

    Only of one setting is the posterior narrower than its prior for sure; of settings that differ
    the mixture may be wider, and nothing can be taken out of it.
    """
    precision = np.linalg.inv(covariance)
    flat = np.linalg.inv(precision - np.eye(len(mean)) / FIXED.change_cents**2)
    return np.asarray(flat @ precision @ mean), np.asarray(flat)


def _weights(fits: Sequence[Attribution]) -> Array:
    evidence = np.array([fit.log_evidence for fit in fits])
    weight = np.exp(evidence - evidence.max())
    return np.asarray(weight / weight.sum(), dtype=np.float64)


def own_variance(covariance: Array) -> Array:
    """Return each note's variance apart from what all notes share.

    Centring independent errors of variances d on the mean of n notes leaves the variance
    d (1 - 2/n) + mean(d)/n; this is solved for d.
    """
    count = len(covariance)
    centred = covariance - covariance.mean(axis=0) - covariance.mean(axis=1)[:, None]
    left = np.diag(centred + covariance.mean())
    mean = left.mean() / (1.0 - 1.0 / count)
    own: Array = (left - mean / count) / (1.0 - 2.0 / count)
    return np.maximum(own, 0.1)


def _judged(midi: list[int], mean: Array, covariance: Array) -> tuple[NoteChange, ...]:
    whole = len(midi) > WHOLE_COMPASS_NOTES
    weight = _WEIGHT_WHOLE if whole else _WEIGHT_CHOSEN
    variance = own_variance(covariance)
    share = _common_change(mean, variance, weight)
    probability = _noticeable(mean, variance, weight, share)
    shift = float(share @ _COMMON)
    shift_variance = float(share @ (_COMMON - shift) ** 2)
    changes = []
    for i, note in enumerate(midi):
        error = math.sqrt(variance[i] + shift_variance)
        chance = float(probability[i])
        verdict: ChangeVerdict = "cannot tell"
        if not (whole and error > LARGEST_ERROR_CENTS):
            verdict = _verdict(chance, mean[i] - shift, error)
        change = interval(float(mean[i]) - shift, error)
        changes.append(
            NoteChange(
                midi=note, change=change, error_cents=error, verdict=verdict, probability=chance
            )
        )
    return tuple(changes)


def _verdict(chance: float, change: float, error: float) -> ChangeVerdict:
    if chance >= _SURE:
        return "changed"
    small = abs(change) + HALF_WIDTH_90 * error < NOTICEABLE_CENTS + LARGEST_ERROR_CENTS
    return "unchanged" if chance <= _SURELY_NOT and small else "cannot tell"


def _common_change(mean: Array, variance: Array, weight: float) -> Array:
    """Return the posterior of the change that all notes share, on its grid."""
    off = mean[:, None] - _COMMON
    slab = _log_normal(off, variance[:, None] + _SLAB_CENTS**2) + math.log(weight)
    spike = _log_normal(off, variance[:, None] + _SPIKE_CENTS**2) + math.log(1.0 - weight)
    log_likelihood = np.logaddexp(slab, spike).sum(axis=0)
    share = np.exp(log_likelihood - log_likelihood.max())
    posterior: Array = share / share.sum()
    return posterior


def _noticeable(mean: Array, variance: Array, weight: float, share: Array) -> Array:
    """Return the probability of each note's noticeable change, over all common changes."""
    off = mean[:, None] - _COMMON
    spread = variance[:, None] + np.zeros_like(off)
    total, beyond = np.zeros_like(off), np.zeros_like(off)
    for sd, part in ((_SLAB_CENTS, weight), (_SPIKE_CENTS, 1.0 - weight)):
        likelihood = part * np.exp(_log_normal(off, spread + sd**2))
        shrunk = off * sd**2 / (spread + sd**2)
        left = np.sqrt(spread * sd**2 / (spread + sd**2))
        below, above = -NOTICEABLE_CENTS - shrunk, NOTICEABLE_CENTS - shrunk
        within = _phi(above / left) - _phi(below / left)
        total += likelihood
        beyond += likelihood * (1.0 - within)
    each = beyond / np.maximum(total, 1e-300)
    chances: Array = each @ share
    return chances


def _log_normal(value: Array, variance: Array) -> Array:
    logs: Array = -0.5 * (value**2 / variance + np.log(2.0 * np.pi * variance))
    return logs


def _phi(value: Array) -> Array:
    """Return the normal distribution function."""
    erf = np.frompyfunc(math.erf, 1, 1)
    return 0.5 + 0.5 * np.asarray(erf(value / math.sqrt(2.0)), dtype=np.float64)
