"""What a run of coarse frames looks like: its middle, its spread, a voice, a step, a fall."""

import math
from collections.abc import Iterable
from statistics import fmean, median

from intonation.tracking.coarse import CoarseFrame

STEP_SIDE = 10
_HIGH_MEAN_ORDER, _HIGHEST_MEAN_ORDER, _UNSTEADY_CENTS = 1.75, 2.4, 6.0
_ABRUPT_DB, _EVEN_DB, _EVEN_FRAMES = 3.0, 1.5, 8
_LEAST_STEP_CENTS, _LEVEL_PART = 20.0, 0.04


def is_tonal(frame: CoarseFrame, *, quietest_db: float, least_hnr_db: float) -> bool:
    """Whether a frame stands out of noise, is loud enough and no remainder of the reference."""
    return (
        not frame.masked
        and frame.harmonic_to_noise_db >= least_hnr_db
        and frame.harmonic_db > quietest_db
    )


def is_voice(run: list[CoarseFrame]) -> bool:
    """Whether a run sounds most around its formants, and holds still as little as a voice does."""
    order = median(f.mean_order for f in run)
    moves = spread_cents(run) > _UNSTEADY_CENTS
    return order > (_HIGH_MEAN_ORDER if moves else _HIGHEST_MEAN_ORDER)


def falls_off(levels: list[float]) -> bool:
    """Whether the level was even and then fell at once: a tongue, and no breath vibrato."""
    falls = [early - late for early, late in zip(levels, levels[2:], strict=False)]
    steepest = max(range(len(falls)), key=falls.__getitem__)
    before = levels[max(0, steepest - _EVEN_FRAMES) : steepest]
    is_even = len(before) == _EVEN_FRAMES and max(before) - min(before) < _EVEN_DB
    return is_even and falls[steepest] > _ABRUPT_DB


def is_step(frames: list[CoarseFrame]) -> bool:
    """Whether the pitch is level at the begin and at the end, and went over in between.

    A glide or a vibrato, however slow, is never as level: its sides scatter by a fifteenth of the
    step and more, those of a step by less than a hundredth.
    """
    sides = [[f.advance_hz for f in part] for part in (frames[:STEP_SIDE], frames[-STEP_SIDE:])]
    if cents_apart(sides[0][0], sides[1][-1]) < _LEAST_STEP_CENTS:
        return False
    levels = [median(side) for side in sides]
    step_cents = cents_apart(*levels)
    scatter = [
        cents_apart(hz, level) ** 2
        for side, level in zip(sides, levels, strict=True)
        for hz in side
    ]
    return step_cents > _LEAST_STEP_CENTS and fmean(scatter) < (_LEVEL_PART * step_cents) ** 2


def median_hz(frames: Iterable[CoarseFrame]) -> float:
    """Return the median fundamental."""
    return median(f.f0_hz for f in frames)


def median_db(frames: Iterable[CoarseFrame]) -> float:
    """Return the median level of the partials."""
    return median(f.harmonic_db for f in frames)


def spread_cents(frames: list[CoarseFrame]) -> float:
    """Return the distance of the highest fundamental from the lowest; 0 of no frames."""
    pitches = [f.f0_hz for f in frames]
    return cents_apart(max(pitches), min(pitches)) if pitches else 0.0


def cents_apart(one_hz: float, other_hz: float) -> float:
    """Return the distance of two frequencies in cents, never negative."""
    return abs(1200.0 * math.log2(one_hz / other_hz))
