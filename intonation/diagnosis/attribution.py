"""The fit: sizes estimated, wild readings eased, and what the notes cannot tell averaged over."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from intonation.diagnosis.bending import Bending, bending_of
from intonation.diagnosis.design import Design, design_of, model_of
from intonation.diagnosis.effects import Setting
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.magnitudes import log_size_precision
from intonation.diagnosis.mixed_model import MixedModel, Posterior, estimated_log_sizes, posterior
from intonation.diagnosis.readings import Array, Axes, Flags, Readings, planned, stacked

Progress = Callable[[float], None]
"""Called with the share that is done; whatever it raises ends the work."""

SETTINGS: tuple[tuple[Setting, float], ...] = tuple(
    (Setting(exact_share=share, compensation=compensation, habit_scale=scale), weight)
    for share, compensation, (scale, weight) in product(
        (0.3, 0.7), (0.05, 0.3), ((0.6, 0.25), (1.0, 0.5), (1.6, 0.25))
    )
)
"""What is averaged over, and the prior weight of each."""

_SURPRISE = 2.6
_EASED_TO = 1.8
_DAY_SURPRISE = 2.4
_HIGHEST_BREATH_DB = 6.0
_CAUTIOUS = 0.6


@dataclass(frozen=True, slots=True)
class Node:
    """One setting with its weight after the evidence, its effects and their posterior."""

    setting: Setting
    weight: float
    design: Design
    state: Posterior


@dataclass(frozen=True, slots=True)
class Attribution:
    """A fitted set of players and instruments.

    Parameters
    ----------
    evidence
        What went in.
    bending
        How the notes bend.
    ideal
        Imagined readings that ask for the parts: one for every pair and note it played.
    nodes
        The mixture; weights sum to one.
    log_size
        Estimated log sizes of the free effects.
    extra
        Variance added to surprising rows and days.
    """

    evidence: Evidence
    bending: Bending
    ideal: Readings
    nodes: tuple[Node, ...]
    log_size: Array
    extra: "Extra"
    breath_db: Array


@dataclass(frozen=True, slots=True)
class Extra:
    """Variance added to what is surprising.

    Parameters
    ----------
    rows
        Of the noise of every row.
    days
        Of every note in one sitting.
    """

    rows: Array
    days: Array


def unwatched(_: float) -> None:
    """Take no notice of progress."""


def attribution_of(evidence: Evidence, *, progress: Progress = unwatched) -> Attribution:
    """Fit the model to evidence of any few players and instruments.

    Parameters
    ----------
    evidence
        At least one reading.
    progress
        Called between steps.
    """
    bending = bending_of(evidence)
    ideal = ideal_readings(evidence)
    stack = stacked(evidence.readings, ideal)
    fit = _Fit(evidence.axes, stack, len(evidence.readings), bending)
    breath_db = _first_breath(stack)
    log_size, extra = np.zeros(len(log_size_precision())), None
    for done in range(3):
        design = fit.design(Setting(), breath_db)
        extra = _eased(fit, design, log_size, extra, rounds=3 if done == 0 else 1)
        model = _widened(fit.model(design), design, extra, log_size)
        log_size = estimated_log_sizes(
            model, precision=log_size_precision(), start=log_size, rounds=8 if done == 0 else 3
        )
        state = posterior(model, log_size)
        breath_db = np.clip(design.breath @ state.mean, -_HIGHEST_BREATH_DB, _HIGHEST_BREATH_DB)
        progress(0.2 * (done + 1))
    assert extra is not None
    nodes = _nodes(fit, breath_db, log_size, extra, progress)
    return Attribution(evidence, bending, ideal, nodes, log_size, extra, breath_db)


@dataclass(frozen=True, slots=True)
class _Fit:
    axes: Axes
    stack: Readings
    measured: int
    bending: Bending

    def design(self, setting: Setting, breath_db: Array) -> Design:
        return design_of(
            self.stack, axes=self.axes, bending=self.bending, setting=setting, breath_db=breath_db
        )

    def model(self, design: Design) -> MixedModel:
        return model_of(design, measured=self.measured)


def ideal_readings(evidence: Evidence) -> Readings:
    """Return one imagined usual reading of every note that each pair has played."""
    seen = evidence.readings
    triples = np.unique(np.stack([seen.player, seen.instrument, seen.note], axis=1), axis=0)
    player, instrument, note = triples.T
    return replace(planned(len(triples)), player=player, instrument=instrument, note=note)


def _first_breath(stack: Readings) -> Array:
    """Guess each usual tone's breath from its level above the middle of the note's swells."""
    middle: dict[tuple[int, int], list[float]] = {}
    usual: dict[tuple[int, int, int], list[float]] = {}
    for i in np.flatnonzero(np.isfinite(stack.level_db)):
        key = int(stack.instrument[i]), int(stack.note[i])
        if stack.middle[i]:
            middle.setdefault(key, []).append(float(stack.level_db[i]))
        elif not stack.matched[i]:
            usual.setdefault((int(stack.player[i]), *key), []).append(float(stack.level_db[i]))
    breath = np.zeros(len(stack))
    for i in np.flatnonzero(~stack.middle & ~stack.matched):
        key = int(stack.instrument[i]), int(stack.note[i])
        levels = usual.get((int(stack.player[i]), *key))
        if levels and key in middle:
            breath[i] = _CAUTIOUS * (np.median(levels) - np.median(middle[key]))
    return np.clip(breath, -_HIGHEST_BREATH_DB, _HIGHEST_BREATH_DB)


def _eased(
    fit: _Fit, design: Design, log_size: Array, extra: Extra | None, *, rounds: int
) -> Extra:
    """Give every surprising row, and day of a note, the variance that makes it merely unusual.

    A variance-shift outlier model (Thompson 1985, Biometrics 41:1035-1041; from memory).
    """
    model = fit.model(design)
    days = design.columns_named("passing day")
    if extra is None:
        extra = Extra(np.zeros(len(model.observed)), np.zeros(days.stop - days.start))
    contradictable = _on_several_days(fit.stack.where(np.arange(fit.measured)), len(extra.days))
    for _ in range(rounds):
        state = posterior(_widened(model, design, extra, log_size), log_size)
        rows = _added(*state.surprise(np.eye(len(model.observed))), limit=_SURPRISE)
        note_days = model.design[:, days]
        there = np.flatnonzero(np.abs(note_days).any(axis=0) & contradictable)
        more = np.zeros(note_days.shape[1])
        more[there] = _added(*state.surprise(note_days[:, there]), limit=_DAY_SURPRISE)
        extra = Extra(extra.rows + rows, extra.days + more)
        if not rows.any() and not more.any():
            break
    return extra


def _on_several_days(readings: Readings, days: int) -> Flags:
    """Return which days of a note can be checked against another day of the same note."""
    place = np.stack([readings.player, readings.instrument, readings.note], axis=1)
    day = np.unique(np.stack([readings.sitting, readings.note], axis=1), axis=0)
    where = {(int(s), int(n)): i for i, (s, n) in enumerate(day)}
    sittings: dict[tuple[int, ...], set[int]] = {}
    for key, sitting in zip(map(tuple, place), readings.sitting, strict=True):
        sittings.setdefault(key, set()).add(int(sitting))
    several = np.zeros(days, dtype=bool)
    for key, sitting in zip(map(tuple, place), readings.sitting, strict=True):
        several[where[int(sitting), int(key[2])]] = len(sittings[key]) > 1
    return several


def _added(surprise: Array, precision: Array, *, limit: float) -> Array:
    ratio = (surprise / _EASED_TO) ** 2
    return np.where(np.abs(surprise) > limit, (ratio - 1.0) / precision, 0.0)


def _widened(model: MixedModel, design: Design, extra: Extra, log_size: Array) -> MixedModel:
    padded = np.append(log_size, 0.0)
    noise_scale = np.exp(2.0 * padded[model.noise_group])
    noise_sd = np.sqrt(model.noise_sd**2 + extra.rows / noise_scale)
    effect_sd = model.effect_sd.copy()
    days = design.columns_named("passing day")
    day_scale = np.exp(2.0 * padded[model.effect_group[days]])
    effect_sd[days] = np.sqrt(effect_sd[days] ** 2 + extra.days / day_scale)
    return replace(model, noise_sd=noise_sd, effect_sd=effect_sd)


def _nodes(
    fit: _Fit, breath_db: Array, log_size: Array, extra: Extra, progress: Progress
) -> tuple[Node, ...]:
    made = []
    for done, (setting, prior) in enumerate(SETTINGS):
        design = fit.design(setting, breath_db)
        state = posterior(_widened(fit.model(design), design, extra, log_size), log_size)
        made.append((setting, np.log(prior) + state.log_evidence, design, state))
        progress(0.6 + 0.4 * (done + 1) / len(SETTINGS))
    log_weight = np.array([weight for _, weight, _, _ in made])
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    return tuple(
        Node(setting, float(w), design, state)
        for (setting, _, design, state), w in zip(made, weight, strict=True)
    )
