"""The fit: sizes estimated, wild readings eased, and what the notes cannot tell averaged over."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from intonation.diagnosis.bending import Bending, bending_of
from intonation.diagnosis.design import Design, design_of, model_of
from intonation.diagnosis.easing import NO_EASING, Easing, eased, eased_further, with_doubt
from intonation.diagnosis.effects import Setting
from intonation.diagnosis.evidence import Evidence
from intonation.diagnosis.magnitudes import FREE, log_size_precision
from intonation.diagnosis.mixed_model import Posterior, estimated_log_sizes, posterior
from intonation.diagnosis.readings import Array, Readings, distinct, planned, stacked

Progress = Callable[[float], None]
"""Called with the share that is done; whatever it raises ends the work."""

SETTINGS: tuple[Setting, ...] = tuple(
    Setting(exact_share=share, compensation=compensation)
    for share, compensation in product((0.3, 0.7), (0.05, 0.3))
)
HABIT_SCALES: tuple[tuple[float, float], ...] = ((0.6, 0.25), (1.0, 0.5), (1.6, 0.25))
"""What is averaged over: every setting with each size of the fingers' habits, relative to what was
estimated, and that size's prior weight. The middles of swells, which one player's notes cannot tell
from the instrument either, go with its square root."""

_HIGHEST_BREATH_DB = 6.0
_CAUTIOUS = 0.6


@dataclass(frozen=True, slots=True)
class Node:
    """One setting and size of habits: its weight after the evidence, effects, their posterior."""

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
    easing
        Room given to what is surprising.
    breath_db
        Breath about which measured and imagined readings are linear.
    """

    evidence: Evidence
    bending: Bending
    ideal: Readings
    nodes: tuple[Node, ...]
    log_size: Array
    easing: Easing
    breath_db: Array

    @property
    def log_evidence(self) -> float:
        """How well the fit explains the readings, over all settings (up to a constant)."""
        penalty = 0.5 * float(self.log_size @ log_size_precision() @ self.log_size)
        each = np.array([node.state.log_evidence for node in self.nodes])
        prior = np.tile([weight for _, weight in HABIT_SCALES], len(SETTINGS))
        return float(each.max() + np.log(prior @ np.exp(each - each.max()))) - penalty


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
    fit = sized(evidence, progress=progress)
    stack = stacked(evidence.readings, fit.ideal)
    return replace(fit, nodes=_nodes(fit, stack, progress))


def sized(
    evidence: Evidence, *, bending: Bending | None = None, progress: Progress = unwatched
) -> Attribution:
    """Return a fit with its sizes estimated, before anything is averaged over (no nodes).

    Parameters
    ----------
    evidence, progress
        As for ``attribution_of``.
    bending
        How the notes bend, if that is known already.
    """
    bending = bending or bending_of(evidence)
    ideal = ideal_readings(evidence)
    stack, measured = stacked(evidence.readings, ideal), len(evidence.readings)
    breath_db = _first_breath(stack)
    log_size, easing = np.zeros(len(log_size_precision())), NO_EASING
    for done in range(3):
        design = _design(evidence, stack, bending, Setting(), breath_db)
        easing = eased_further(NO_EASING, design, log_size, measured=measured, rounds=3)
        model = eased(model_of(design, measured=measured), design, easing, log_size)
        log_size = estimated_log_sizes(
            model, precision=log_size_precision(), start=log_size, rounds=3 if done else 8
        )
        breath = design.breath @ posterior(model, log_size).mean
        breath_db = np.clip(breath, -_HIGHEST_BREATH_DB, _HIGHEST_BREATH_DB)
        progress(0.2 * (done + 1))
    design = _design(evidence, stack, bending, Setting(), breath_db)
    easing = with_doubt(easing, design, log_size, measured=measured)
    return Attribution(evidence, bending, ideal, (), log_size, easing, breath_db)


def posterior_of(fit: Attribution, design: Design) -> Posterior:
    """Return what the measured readings say, with a design that begins with them."""
    model = model_of(design, measured=len(fit.evidence.readings))
    return posterior(eased(model, design, fit.easing, fit.log_size), fit.log_size)


def _design(
    evidence: Evidence, stack: Readings, bending: Bending, setting: Setting, breath_db: Array
) -> Design:
    return design_of(
        stack, axes=evidence.axes, bending=bending, setting=setting, breath_db=breath_db
    )


def ideal_readings(evidence: Evidence) -> Readings:
    """Return one imagined usual reading of every note that each pair has played."""
    seen = evidence.readings
    player, instrument, note = distinct(seen.player, seen.instrument, seen.note).T
    return replace(planned(len(note)), player=player, instrument=instrument, note=note)


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


def _nodes(fit: Attribution, stack: Readings, progress: Progress) -> tuple[Node, ...]:
    made: list[tuple[Design, Posterior]] = []
    for done, setting in enumerate(SETTINGS):
        design = _design(fit.evidence, stack, fit.bending, setting, fit.breath_db)
        made += [(design, state) for state in _states(fit, design)]
        progress(0.6 + 0.4 * (done + 1) / len(SETTINGS))
    prior = np.tile([weight for _, weight in HABIT_SCALES], len(SETTINGS))
    log_weight = np.log(prior) + [state.log_evidence for _, state in made]
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    return tuple(
        Node(float(w), design, state) for (design, state), w in zip(made, weight, strict=True)
    )


def _states(fit: Attribution, design: Design) -> Iterator[Posterior]:
    """Yield the posterior for each size of the habits."""
    model = model_of(design, measured=len(fit.evidence.readings))
    model = eased(model, design, fit.easing, fit.log_size)
    shares = model.shares(len(fit.log_size))
    for scale, _ in HABIT_SCALES:
        yield posterior(model, with_habits(fit.log_size, scale=scale), shares)


def with_habits(log_size: Array, *, scale: float) -> Array:
    """Return log sizes with habits so many times as large, and middles by the square root of it."""
    scaled = log_size.copy()
    scaled[FREE.index("habit")] += np.log(scale)
    scaled[FREE.index("middle")] += 0.5 * np.log(scale)
    return scaled
