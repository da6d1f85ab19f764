"""Ear, breath or instrument: what makes a player miss a sounding reference on one note.

Three root-mean-square sizes in cents. Ear: how far off the pitch lies that sounds right, and how
blurred it is, as far as either reaches the pitch. Breath: how unsteadily the same aim is hit. And
instrument: how far the reference lies outside what the note can be bent to.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from intonation.diagnosis.parts import HALF_WIDTH_90, Interval
from intonation.diagnosis.readings import Array

Lever = Literal["ear", "breath", "instrument"]
LEVERS: tuple[Lever, ...] = ("ear", "breath", "instrument")
FEWEST_MATCHED = 4
"""With fewer notes against a reference the spread of the aim cannot be told."""

_DRAWS = 4000
_LEAST_CENTS = 0.2
_SEED = 27
_FOLLOWING, _FOLLOWING_SPREAD = 0.8, 0.15
_BLUR_SHARE, _BLUR_LOG_SPREAD = 1.0 / 1.5, 0.35
"""How far a player follows what is heard, and how much of the blur reaches the pitch (invented)."""
_MOTOR_LOG_SPREAD = 0.1
"""How much steadier, or less so, breath is against a reference than without (invented)."""
_END_CENTS, _DAY_CENTS = 2.0, 2.0
"""How surely the ends of a swell are known: each of them, and all of them together on another
day (invented)."""
_SLIP_SHARE, _SLIP_CENTS = 0.04, 40.0
"""Notes that were held for another reason than aim, and how far off those are (invented)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hearing:
    """What listening has shown of a player, as a normal posterior.

    Parameters
    ----------
    bias_cents, bias_sd_cents
        Where a tone sounds in tune, relative to where it is.
    log_blur, log_blur_sd
        Natural logarithm of the spread of what sounds in tune, in cents.
    """

    bias_cents: float
    bias_sd_cents: float
    log_blur: float
    log_blur_sd: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchedNote:
    """A note played against a reference.

    Parameters
    ----------
    cents
        How far from the reference it was held.
    unmatched_cents
        How far from the reference this player sounds on it without one.
    low_cents, high_cents
        Between what the note can be bent to, from the reference; infinite if that is not known.
    """

    cents: float
    unmatched_cents: float = 0.0
    low_cents: float = -math.inf
    high_cents: float = math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreeWay:
    """The three sizes in cents, and the probability that each is the largest."""

    ear: Interval
    breath: Interval
    instrument: Interval
    largest: dict[Lever, float]


def three_way(
    matched: Sequence[MatchedNote], *, hearing: Hearing | None, motor_cents: Interval
) -> ThreeWay | None:
    """Return what keeps a player from the reference; None while something is missing.

    Parameters
    ----------
    matched
        Notes against a reference; at least ``FEWEST_MATCHED``.
    hearing
        From ear training; None until thresholds exist.
    motor_cents
        Spread of the same tone repeated, from breath and measurement.
    """
    if hearing is None or len(matched) < FEWEST_MATCHED:
        return None
    draws = _drawn(hearing, motor_cents)
    reach = _reach(matched)
    weight = _weights(matched, draws, reach)
    sizes = np.stack(
        [
            np.hypot(draws.bias, draws.blur),
            draws.motor,
            np.sqrt(np.mean(reach**2, axis=0)),
        ]
    )
    best = np.argmax(sizes, axis=0)
    ear, breath, instrument = (_interval(size, weight) for size in sizes)
    largest = {lever: float(weight[best == i].sum()) for i, lever in enumerate(LEVERS)}
    return ThreeWay(ear=ear, breath=breath, instrument=instrument, largest=largest)


@dataclass(frozen=True, slots=True)
class _Draws:
    bias: Array
    blur: Array
    motor: Array
    following: Array


def _drawn(hearing: Hearing, motor_cents: Interval) -> _Draws:
    # The same draws every time: a result must not change when it is asked for again.
    normal = np.random.default_rng(_SEED).standard_normal((5, _DRAWS))
    blur = np.exp(hearing.log_blur + hearing.log_blur_sd * normal[1])
    share = _BLUR_SHARE * np.exp(_BLUR_LOG_SPREAD * normal[2])
    motor = max(motor_cents.mean, _LEAST_CENTS)
    spread = (motor_cents.high - motor_cents.low) / (2.0 * HALF_WIDTH_90 * motor)
    return _Draws(
        bias=hearing.bias_cents + hearing.bias_sd_cents * normal[0],
        blur=blur * share,
        motor=motor * np.exp(math.hypot(min(spread, 1.0), _MOTOR_LOG_SPREAD) * normal[3]),
        following=np.clip(_FOLLOWING + _FOLLOWING_SPREAD * normal[4], 0.0, 1.0),
    )


def _reach(matched: Sequence[MatchedNote]) -> Array:
    """Return how far each reference lies outside what its note can be bent to, (notes, draws)."""
    normal = np.random.default_rng(_SEED + 1).standard_normal((2 * len(matched) + 1, _DRAWS))
    day, ends = _DAY_CENTS * normal[0], _END_CENTS * normal[1:]
    low = np.array([note.low_cents for note in matched])[:, None] + ends[::2] + day
    high = np.array([note.high_cents for note in matched])[:, None] + ends[1::2] + day
    reach: Array = np.maximum(low, 0.0) + np.minimum(high, 0.0)
    return reach


def _weights(matched: Sequence[MatchedNote], draws: _Draws, reach: Array) -> Array:
    """Return how well each draw explains the notes, of which a few are slips."""
    variance = draws.blur**2 + draws.motor**2
    log_weight = np.zeros(_DRAWS)
    for note, outside in zip(matched, reach, strict=True):
        expected = draws.bias + (1.0 - draws.following) * note.unmatched_cents + outside
        off = note.cents - expected
        aimed = (1.0 - _SLIP_SHARE) * _density(off, variance)
        log_weight += np.log(aimed + _SLIP_SHARE * _density(off, variance + _SLIP_CENTS**2))
    weight = np.exp(log_weight - log_weight.max())
    return np.asarray(weight / weight.sum(), dtype=np.float64)


def _density(value: Array, variance: Array) -> Array:
    density: Array = np.exp(-0.5 * value**2 / variance) / np.sqrt(variance)
    return np.maximum(density, 1e-300)


def _interval(drawn: Array, weight: Array) -> Interval:
    order = np.argsort(drawn)
    below = np.cumsum(weight[order])
    last = len(drawn) - 1
    low, high = (
        float(drawn[order][min(int(np.searchsorted(below, share)), last)]) for share in (0.05, 0.95)
    )
    return Interval(float(weight @ drawn), low, high)
