"""The next experiment: what to play so that an open note is settled soonest.

The covariance of what is not known yet does not depend on what will be heard, so the worth of an
experiment can be told beforehand (preposterior analysis, Lindley 1956, Ann. Math. Stat. 27:986).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis import magnitudes
from intonation.diagnosis.attribution import Attribution, posterior_of
from intonation.diagnosis.bending import Bending
from intonation.diagnosis.chance import even_pairs
from intonation.diagnosis.design import Design, design_of
from intonation.diagnosis.effects import Setting
from intonation.diagnosis.mixed_model import Posterior
from intonation.diagnosis.parts import Parts, combined_parts
from intonation.diagnosis.planned_tones import Candidate, planned_tones
from intonation.diagnosis.readings import Array, Axes, Numbers, Readings, stacked
from intonation.diagnosis.results import NextExperiment
from intonation.diagnosis.verdict import ANSWERS, TOLERANCE_CENTS, classified, root_of

_OUTCOMES = 32
_DRAWS = 128
_WORTHWHILE = 0.005


@dataclass(frozen=True, slots=True)
class _Plan:
    """What could be played, and what is known before.

    Parameters
    ----------
    state
        Posterior of the effects now.
    asked
        Instrument's and player's part of every note of the pair, two rows each, by effects.
    pitch, level
        Planned readings by effects.
    candidates
        The experiments.
    """

    state: Posterior
    asked: Array
    pitch: Array
    level: Array
    candidates: tuple[Candidate, ...]


@dataclass(frozen=True, slots=True)
class _Now:
    """A note's instrument's and player's part: mean, covariance, chance of the best answer."""

    mean: Array
    covariance: Array
    chance: float


def next_experiments(
    fit: Attribution,
    parts: Parts,
    *,
    open_notes: Sequence[int],
    tolerance_cents: float = TOLERANCE_CENTS,
) -> dict[int, tuple[NextExperiment, ...]]:
    """Return what to play next for each open note, the most gain per minute first.

    Parameters
    ----------
    fit, parts
        Of the pair.
    open_notes
        Indices into ``parts.notes``.
    tolerance_cents
        As for the verdict.
    """
    found: dict[int, list[NextExperiment]] = {note: [] for note in open_notes}
    if not open_notes:
        return {}
    plan = _plan(fit, parts, open_notes)
    now = {note: _now(parts, note, tolerance_cents) for note in open_notes}
    for candidate in plan.candidates:
        notes = open_notes if candidate.note is None else [candidate.note]
        for note, learnt in zip(notes, _learnt(plan, candidate, notes), strict=True):
            gain = _gain(now[note], learnt, tolerance_cents)
            if gain > _WORTHWHILE:
                kind, seconds = candidate.experiment, candidate.seconds
                found[note].append(NextExperiment(experiment=kind, gain=gain, seconds=seconds))
    return {
        note: tuple(sorted(options, key=lambda option: -option.gain / option.seconds))
        for note, options in found.items()
    }


def _plan(fit: Attribution, parts: Parts, open_notes: Sequence[int]) -> _Plan:
    axes, seen = fit.evidence.axes, fit.evidence.readings
    player, instrument = axes.players.index(parts.player), axes.instruments.index(parts.instrument)
    own = (fit.ideal.player == player) & (fit.ideal.instrument == instrument)
    ideal = fit.ideal.where(own)
    tones, candidates = planned_tones(ideal, seen, open_notes)
    breath = fit.breath_db[len(seen) :][own]
    design = design_of(
        stacked(seen, ideal, tones),
        axes=_with_one_more(axes),
        bending=_with_a_usual_one(fit.bending),
        setting=Setting(),
        breath_db=np.concatenate(
            [fit.breath_db[: len(seen)], breath, _expected_breath(tones, ideal.note, breath)]
        ),
    )
    first = len(seen) + len(ideal)
    later = design.where(slice(first, None))
    return _Plan(
        posterior_of(fit, design),
        _instrument_and_player(design, len(seen) + np.arange(len(ideal))),
        later.pitch,
        later.level,
        tuple(candidates),
    )


def _expected_breath(tones: Readings, notes: Numbers, breath_db: Array) -> Array:
    usual = dict(zip(notes.tolist(), breath_db.tolist(), strict=True))
    expected = np.array([usual[note] for note in tones.note.tolist()])
    return np.where(tones.middle, 0.0, expected)


def _with_one_more(axes: Axes) -> Axes:
    nobody = ("", "")
    return replace(
        axes,
        players=(*axes.players, ""),
        instruments=(*axes.instruments, ""),
        rooms=(*axes.rooms, nobody),
    )


def _with_a_usual_one(bending: Bending) -> Bending:
    def extended(values: Array, usual: float) -> Array:
        return np.vstack([values, np.full(values.shape[1], usual)])

    spread = np.hypot(magnitudes.CENTS_PER_DB_SPREAD, magnitudes.NOTE_CENTS_PER_DB_SPREAD)
    return Bending(
        cents_per_db=extended(bending.cents_per_db, magnitudes.USUAL_CENTS_PER_DB),
        cents_per_db_sd=extended(bending.cents_per_db_sd, float(spread)),
        curvature=extended(bending.curvature, magnitudes.USUAL_CURVATURE),
    )


def _instrument_and_player(design: Design, rows: Numbers) -> Array:
    instrument, breath, fingers = combined_parts(design, rows)
    both = np.stack([instrument, breath + fingers], axis=1)
    return both.reshape(2 * len(rows), -1)


def _learnt(plan: _Plan, candidate: Candidate, notes: Sequence[int]) -> list[Array]:
    """Return by how much each note's covariance of instrument and player would shrink."""
    tones = len(candidate.rows)
    rows = np.vstack([plan.pitch[candidate.rows], plan.level[candidate.rows]])
    asked = np.vstack([plan.asked[2 * note : 2 * note + 2] for note in notes])
    noise = np.repeat([magnitudes.size_of("pitch") ** 2, magnitudes.FIXED.level_db**2], tones)
    joint = plan.state.covariance(np.vstack([rows, asked]))
    across = joint[2 * tones :, : 2 * tones]
    shrunk = across @ np.linalg.solve(joint[: 2 * tones, : 2 * tones] + np.diag(noise), across.T)
    return [shrunk[2 * i : 2 * i + 2, 2 * i : 2 * i + 2] for i in range(len(notes))]


def _now(parts: Parts, note: int, tolerance_cents: float) -> _Now:
    """Return what is known of a note, its mixture taken as one normal distribution."""
    pairs = zip(*parts.pairs_of(note), strict=True)
    weight, means, covariances = (np.array(each) for each in pairs)
    mean = weight @ means
    off = means - mean
    covariance = np.tensordot(weight, covariances, axes=1) + (weight * off.T) @ off
    drawn = mean[:, None] + root_of(covariance) @ even_pairs(_OUTCOMES * _DRAWS)
    return _Now(mean, covariance, float(_best_chance(drawn, tolerance_cents)))


def _gain(now: _Now, learnt: Array, tolerance_cents: float) -> float:
    """Return how much the probability of the best answer is expected to rise."""
    after = now.mean[:, None] + root_of(learnt) @ even_pairs(_OUTCOMES)
    spread = root_of(now.covariance - learnt) @ even_pairs(_DRAWS)
    drawn = after[:, :, None] + spread[:, None, :]
    return float(_best_chance(drawn, tolerance_cents).mean()) - now.chance


def _best_chance(drawn: Array, tolerance_cents: float) -> Array:
    """Return the share of the most frequent answer along the last axis."""
    answers = classified(drawn[0], drawn[1], tolerance_cents=tolerance_cents)
    shares = [(answers == which).mean(axis=-1) for which in range(len(ANSWERS))]
    return np.asarray(np.max(shares, axis=0), dtype=np.float64)
