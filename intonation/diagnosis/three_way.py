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

from intonation.diagnosis.parts import Interval
from intonation.diagnosis.readings import Array

Lever = Literal["ear", "breath", "instrument"]
LEVERS: tuple[Lever, ...] = ("ear", "breath", "instrument")
FEWEST_MATCHED = 4
"""With fewer notes against a reference the spread of the aim cannot be told."""

_DRAWS = 4000
_SEED = 27
_FOLLOWING, _FOLLOWING_SPREAD = 0.8, 0.15
_BLUR_SHARE, _BLUR_LOG_SPREAD = 1.0 / 1.5, 0.35
_STUDENT_FREEDOM = 5.0
"""How far a player follows what is heard, and how much of the blur reaches the pitch (invented)."""


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
    reach_cents
        How far the reference lies outside the note's range of bending, signed; 0 inside.
    """

    cents: float
    unmatched_cents: float = 0.0
    reach_cents: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreeWay:
    """The three sizes in cents, and the probability that each is the largest."""

    ear: Interval
    breath: Interval
    instrument: Interval
    largest: dict[Lever, float]


def reach_cents(*, target_cents: float, soft_cents: float, loud_cents: float) -> float:
    """Return how far a target lies outside what breath can bend a note to; 0 inside.

    Parameters
    ----------
    target_cents
        Of the reference, on the same scale as the others.
    soft_cents, loud_cents
        Pitch of the note at the softest and the loudest clean tone.
    """
    low, high = sorted((soft_cents, loud_cents))
    if target_cents < low:
        return low - target_cents
    return min(high - target_cents, 0.0)


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
    weight = _weights(matched, draws)
    reach = np.array([note.reach_cents for note in matched])
    sizes = np.stack(
        [
            np.hypot(draws.bias, draws.blur),
            draws.motor,
            np.full(_DRAWS, math.sqrt(float(np.mean(reach**2)))),
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
    spread = (motor_cents.high - motor_cents.low) / (2.0 * 1.645)
    return _Draws(
        bias=hearing.bias_cents + hearing.bias_sd_cents * normal[0],
        blur=blur * share,
        motor=np.maximum(motor_cents.mean + spread * normal[3], 0.2),
        following=np.clip(_FOLLOWING + _FOLLOWING_SPREAD * normal[4], 0.0, 1.0),
    )


def _weights(matched: Sequence[MatchedNote], draws: _Draws) -> Array:
    """Return how well each draw explains the notes: a Student density, so that slips count less."""
    spread = draws.blur**2 + draws.motor**2
    log_weight = np.zeros(_DRAWS)
    for note in matched:
        expected = draws.bias + (1.0 - draws.following) * note.unmatched_cents + note.reach_cents
        off = (note.cents - expected) ** 2 / (spread * _STUDENT_FREEDOM)
        log_weight -= 0.5 * (_STUDENT_FREEDOM + 1.0) * np.log1p(off) + 0.5 * np.log(spread)
    weight = np.exp(log_weight - log_weight.max())
    return np.asarray(weight / weight.sum(), dtype=np.float64)


def _interval(drawn: Array, weight: Array) -> Interval:
    order = np.argsort(drawn)
    below = np.cumsum(weight[order])
    last = len(drawn) - 1
    low, high = (
        float(drawn[order][min(int(np.searchsorted(below, share)), last)]) for share in (0.05, 0.95)
    )
    return Interval(float(weight @ drawn), low, high)
