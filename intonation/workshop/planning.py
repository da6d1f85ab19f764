"""Work that could be tried, reversible work first, and what it is predicted to do to each note."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from intonation.acoustics.alterations import Alteration, Work
from intonation.workshop.causes import RankedCause
from intonation.workshop.compass import Cents, Compass, Progress
from intonation.workshop.faults import Cause, FaultKind
from intonation.workshop.proposal import (
    BREATH_WINDOW_CENTS,
    LARGEST_MM,
    MOVES_MM,
    propose,
    strip_at,
    window_of,
)

LIKELY = 0.1
"""Causes less probable than this are not worked on (judgement)."""

SIDE_EFFECT_CENTS = 2.0
"""A note that ends this much further from the middle counts as a side effect (judgement)."""

NOTICEABLE_CENTS = 5.0
"""Within this of the middle nobody minds where a note has gone (judgement)."""

TOGETHER = 0.5
"""Causes at least so probable are also worked on together (judgement)."""

Reason = FaultKind | Literal["smallest set", "all causes", "asked for"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedWork:
    """Work with its predicted effect, before anything is touched.

    Parameters
    ----------
    reason
        The fault that it is meant to cure, ``"smallest set"`` for the proposal that brings all
        notes closest together, ``"all causes"`` for those of every likely fault, or
        ``"asked for"``.
    alterations
        What is done, together.
    midi
        Notes of the compass.
    effect_cents
        What it does to each of them.
    before_cents, after_cents
        Measured and predicted offsets about the middle of the window; NaN where not measured.
    """

    reason: Reason
    alterations: tuple[Alteration, ...]
    midi: tuple[int, ...]
    effect_cents: tuple[float, ...]
    before_cents: tuple[float, ...]
    after_cents: tuple[float, ...]

    @property
    def reversible(self) -> bool:
        """Whether all of it can be undone without a trace."""
        return all(alteration.reversible for alteration in self.alterations)

    @property
    def before_window_cents(self) -> float:
        """Distance from the flattest to the sharpest note now."""
        return window_of(np.array(self.before_cents))

    @property
    def after_window_cents(self) -> float:
        """The same as predicted."""
        return window_of(np.array(self.after_cents))

    @property
    def side_effects_midi(self) -> tuple[int, ...]:
        """Notes that are predicted to end further from the middle than they are, worst first."""
        before, after = np.abs(self.before_cents), np.abs(self.after_cents)
        worse = np.where(after > NOTICEABLE_CENTS, np.nan_to_num(after - before), 0.0)
        order = np.argsort(-worse)
        return tuple(self.midi[i] for i in order if worse[i] > SIDE_EFFECT_CENTS)


def predicted(
    compass: Compass,
    alterations: Sequence[Alteration],
    offset_cents: Cents,
    *,
    reason: Reason = "asked for",
) -> PlannedWork:
    """Return what a piece of work is predicted to do.

    Parameters
    ----------
    compass
        The instrument as the model knows it.
    alterations
        What is done, together.
    offset_cents
        Measured offset per note of the compass, NaN where unknown.
    reason
        Why it is looked at.
    """
    effect = compass.effect(alterations) if alterations else np.zeros(len(compass.midi))
    return PlannedWork(
        reason=reason,
        alterations=tuple(alterations),
        midi=compass.midi,
        effect_cents=tuple(effect.tolist()),
        before_cents=_about_the_middle(offset_cents),
        after_cents=_about_the_middle(offset_cents + effect),
    )


def _about_the_middle(cents: Cents) -> tuple[float, ...]:
    if not np.isfinite(cents).any():
        return tuple(cents.tolist())
    middle = (np.nanmax(cents) + np.nanmin(cents)) / 2.0
    return tuple((cents - middle).tolist())


def planned_work(
    compass: Compass,
    offset_cents: Cents,
    ranked: Sequence[RankedCause],
    *,
    progress: Progress | None = None,
) -> tuple[PlannedWork, ...]:
    """Return what could be tried: the smallest reversible set, then cures of the likely causes.

    Parameters
    ----------
    compass
        The instrument as the model knows it.
    offset_cents
        Measured offset per note of the compass, NaN where unknown.
    ranked
        Its causes as ranked.
    progress
        Told the finished share; may raise to cancel.

    Returns
    -------
    tuple
        Reversible work before irreversible; none for an instrument that breath can hold.
    """
    if window_of(offset_cents) <= BREATH_WINDOW_CENTS:
        return ()
    proposal = propose(compass, offset_cents, progress=progress)
    found = []
    if proposal.alterations:
        found.append(predicted(compass, proposal.alterations, offset_cents, reason="smallest set"))
    worked_on: set[tuple[Work, str | None]] = set()
    for entry in ranked:
        for cure in _cures(compass, entry) if entry.probability >= LIKELY else ():
            if (cure.work, cure.hole) not in worked_on:
                worked_on.add((cure.work, cure.hole))
                sized = _sized(compass, cure, entry.size_cents)
                found.append(predicted(compass, [sized], offset_cents, reason=entry.cause.kind))
    found += _all_at_once(compass, offset_cents, ranked)
    return tuple(sorted(found, key=lambda work: not work.reversible))


def _all_at_once(
    compass: Compass, offset_cents: Cents, ranked: Sequence[RankedCause]
) -> list[PlannedWork]:
    """Return the first cure of every probable cause, done together; nothing for a single cause."""
    together = []
    for entry in ranked:
        cure = next(_cures(compass, entry), None) if entry.probability >= TOGETHER else None
        if cure is not None:
            together.append(_sized(compass, cure, entry.size_cents))
    if len(together) < 2:
        return []
    return [predicted(compass, together, offset_cents, reason="all causes")]


def _cures(compass: Compass, entry: RankedCause) -> Iterator[Alteration]:
    """Yield the kinds of work that move the notes of a fault the right way, at a first amount."""
    cause = entry.cause
    if cause.hole is not None and cause.kind in ("hole size", "hole place"):
        works = _LOWERING if entry.size_cents > 0.0 else _RAISING
        hole = _drilled(compass, cause)
        yield from (Alteration(work=work, amount_mm=0.1, hole=hole) for work in works)
    elif cause.kind == "bore" and entry.size_cents > 0.0:
        yield Alteration(
            work="line the bore", amount_mm=0.05, from_mm=cause.from_mm, to_mm=cause.to_mm
        )
    elif cause.kind == "octaves" and entry.size_cents > 0.0:
        yield strip_at(compass.geometry, compass.geometry.head_joint_mm + 2.0, thickness_mm=0.1)
    elif cause.kind == "head joint" and entry.size_cents > 0.0:
        yield Alteration(work="pull the head joint", amount_mm=0.5)


_LOWERING: tuple[Work, ...] = ("tape over part of a hole", "wax in a hole")
_RAISING: tuple[Work, ...] = ("undercut towards the window", "enlarge a hole")


def _drilled(compass: Compass, cause: Cause) -> str:
    """Return the drilled hole to work on: the larger one of a pair."""
    names = {hole.name for hole in compass.geometry.holes}
    return cause.hole if cause.hole in names else f"{cause.hole}a"


def _sized(compass: Compass, cure: Alteration, size_cents: float) -> Alteration:
    """Return the work in the amount that cures a fault of some size, within what is sensible."""
    per_mm = float(np.nanmax(np.abs(compass.effect([cure])))) / cure.amount_mm
    step = MOVES_MM[cure.work]
    wanted = abs(size_cents) / per_mm if per_mm > 0.0 else step
    amount = min(max(round(wanted / step) * step, step), LARGEST_MM[cure.work])
    return cure.by(round(amount, 3))
