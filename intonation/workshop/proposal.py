"""The smallest reversible set of alterations that brings all notes into the breath's window."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from intonation.acoustics.alterations import Alteration, Work
from intonation.acoustics.geometry import Geometry
from intonation.workshop.compass import Cents, Compass, Progress

BREATH_WINDOW_CENTS = 20.0
"""What breath alone can cover, from the flattest to the sharpest note (common practice)."""

MOST_ALTERATIONS = 3

LARGEST_MM: dict[Work, float] = {
    "pull the head joint": 2.0,
    "line the bore": 0.25,
    "tape over part of a hole": 1.2,
    "wax in a hole": 0.6,
    "clay at the window": 2.0,
    "enlarge a hole": 0.5,
    "undercut towards the window": 1.0,
    "undercut towards the foot": 1.0,
}
"""No work is proposed beyond this; further pulling spoils the relations between notes (common
practice, no source), the rest is our judgement."""

MOVES_MM: dict[Work, float] = {
    "pull the head joint": 0.25,
    "line the bore": 0.05,
    "tape over part of a hole": 0.1,
    "wax in a hole": 0.1,
    "clay at the window": 0.25,
    "enlarge a hole": 0.05,
    "undercut towards the window": 0.1,
    "undercut towards the foot": 0.1,
}
"""How finely each kind of work can be done by hand (judgement; cutting in steps of 0.05 to 0.1 mm
is common practice, no source)."""

_WORTH_ANOTHER_CENTS = 3.0
"""One more piece of work has to bring the notes so much closer together (judgement)."""

_STRIP_SHARE = 0.07
"""Length of a strip as a share of the bore: 30 mm on an alto (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A set of alterations and what it is predicted to do.

    Parameters
    ----------
    alterations
        What to do, nothing for an instrument that needs nothing.
    before_window_cents, after_window_cents
        Distance from the flattest to the sharpest note.
    after_cents
        Predicted offset of each note about the new middle.
    reaches_window
        Whether breath alone can then cover what is left.
    """

    alterations: tuple[Alteration, ...]
    before_window_cents: float
    after_window_cents: float
    after_cents: tuple[float, ...]
    reaches_window: bool


def reversible_candidates(compass: Compass) -> tuple[Alteration, ...]:
    """Return every reversible alteration that the model knows, each at its largest amount."""
    geometry = compass.geometry
    joint = geometry.head_joint_mm
    whole = [
        Alteration(work="pull the head joint", amount_mm=LARGEST_MM["pull the head joint"]),
        Alteration(work="clay at the window", amount_mm=LARGEST_MM["clay at the window"]),
    ]
    holes = [
        Alteration(
            work="tape over part of a hole",
            amount_mm=min(LARGEST_MM["tape over part of a hole"], hole.diameter_mm * 0.25),
            hole=hole.name,
        )
        for hole in geometry.holes
    ]
    starts = np.linspace(joint + 2.0, 0.91 * geometry.length_mm, 7)
    thickness_mm = LARGEST_MM["line the bore"]
    strips = [strip_at(geometry, float(start), thickness_mm=thickness_mm) for start in starts]
    return (*whole, *holes, *strips)


def strip_at(geometry: Geometry, start_mm: float, *, thickness_mm: float) -> Alteration:
    """Return a strip of some thickness in the bore, to the end of the foot at most."""
    end_mm = min(start_mm + _STRIP_SHARE * geometry.length_mm, geometry.length_mm - 1.0)
    return Alteration(work="line the bore", amount_mm=thickness_mm, from_mm=start_mm, to_mm=end_mm)


def propose(compass: Compass, offset_cents: Cents, *, progress: Progress | None = None) -> Proposal:
    """Return the smallest reversible set that makes the notes fit the breath's window.

    Parameters
    ----------
    compass
        The instrument as the model knows it.
    offset_cents
        Measured offset per note of the compass, NaN where unknown.
    progress
        Told the finished share; may raise to cancel.

    Notes
    -----
    Effects of single alterations are taken as linear in their amount and added, which the model
    confirms within a cent at these sizes; the winner is then computed exactly. Sets of one, two
    and three alterations are tried in this order and the first that reaches the window wins; where
    none does, one more alteration has to bring the notes at least 3 cents closer together.
    """
    known = np.isfinite(offset_cents)
    before = window_of(offset_cents[known])
    if before <= BREATH_WINDOW_CENTS:
        return _as_it_is(offset_cents, before)
    candidates = reversible_candidates(compass)
    effects = np.array(
        [_told(compass.effect([c]), progress, i, len(candidates)) for i, c in enumerate(candidates)]
    )
    best: tuple[Alteration, ...] = ()
    best_window = before
    for size in range(1, MOST_ALTERATIONS + 1):
        found = _best_of_size(size, candidates, effects[:, known], offset_cents[known])
        if found[1] <= BREATH_WINDOW_CENTS or found[1] < best_window - _WORTH_ANOTHER_CENTS:
            best, best_window = found
        if best_window <= BREATH_WINDOW_CENTS:
            break
    return _exactly(compass, best, offset_cents, before)


def _told(effect: Cents, progress: Progress | None, done: int, total: int) -> Cents:
    if progress is not None:
        progress((done + 1) / total)
    return effect


def _as_it_is(offset_cents: Cents, window: float) -> Proposal:
    centred = offset_cents - _middle(offset_cents)
    return Proposal((), window, window, tuple(centred.tolist()), True)


def _best_of_size(
    size: int, candidates: Sequence[Alteration], effects: Cents, offsets: Cents
) -> tuple[tuple[Alteration, ...], float]:
    steps = np.array([MOVES_MM[c.work] / c.amount_mm for c in candidates])
    best: tuple[tuple[int, ...], NDArray[np.float64]] = ((), np.zeros(0))
    best_window = np.inf
    for chosen in combinations(range(len(candidates)), size):
        places = list(chosen)
        # in steps that a hand can do, so that the window is the one that will be found
        shares = np.round(_shares(effects[places], offsets) / steps[places]) * steps[places]
        window = window_of(offsets + shares @ effects[places])
        if window < best_window:
            best_window, best = window, (chosen, shares)
    sized = (
        candidates[i].by(round(candidates[i].amount_mm * share, 3))
        for i, share in zip(best[0], best[1].tolist(), strict=True)
    )
    return tuple(alteration for alteration in sized if alteration.amount_mm > 0.0), best_window


def _shares(effects: Cents, offsets: Cents) -> NDArray[np.float64]:
    """Return how much of each alteration to use, 0 to 1, by iterated reweighted least squares.

    High powers of the residual approach the smallest window (Lawson's algorithm; from memory).
    """
    shares = np.zeros(len(effects))
    weights = np.full(offsets.shape, 1.0 / len(offsets))
    for _ in range(12):
        centred = effects - (effects @ weights)[:, None]
        target = -(offsets - offsets @ weights)
        gram = (centred * weights) @ centred.T + 1e-9 * np.eye(len(effects))
        shares = np.clip(np.linalg.solve(gram, (centred * weights) @ target), 0.0, 1.0)
        left = np.abs(shares @ centred - target)
        weights = weights * (left + 1e-6)
        weights /= np.sum(weights)
    return shares


def _exactly(
    compass: Compass, alterations: tuple[Alteration, ...], offset_cents: Cents, before: float
) -> Proposal:
    after = offset_cents + compass.effect(alterations)
    window = window_of(after[np.isfinite(after)])
    centred = after - _middle(after)
    return Proposal(
        alterations, before, window, tuple(centred.tolist()), window <= BREATH_WINDOW_CENTS
    )


def window_of(cents: Cents) -> float:
    """Return the distance from the flattest to the sharpest note in cents; NaN is left out."""
    known = cents[np.isfinite(cents)]
    return float(np.ptp(known)) if len(known) else 0.0


def _middle(cents: Cents) -> float:
    return float(np.nanmax(cents) + np.nanmin(cents)) / 2.0
