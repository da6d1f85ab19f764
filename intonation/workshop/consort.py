"""Bring several instruments closest together: one concert pitch and head-joint pulls."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from intonation.pitch.cents import shifted_hz

LARGEST_PULL_MM = 2.0
"""Pulling further spoils the relations between notes (common practice, no source)."""

_PULL_STEP_MM = 0.25


@dataclass(frozen=True, slots=True)
class ConsortMember:
    """One instrument of a consort.

    Parameters
    ----------
    name
        Which instrument.
    midi
        Its measured notes.
    offset_cents
        Their offsets at the present concert pitch.
    cents_per_mm
        What one millimetre of head-joint pull does to each of them (negative).
    """

    name: str
    midi: tuple[int, ...]
    offset_cents: tuple[float, ...]
    cents_per_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ConsortPitch:
    """The common pitch, each instrument's pull, and the notes that stay apart.

    Parameters
    ----------
    a4_hz
        Concert pitch that asks least of everybody's breath.
    pull_mm
        Per member, in order.
    apart
        ``(midi, spread_cents)`` of notes that two members still play more than ten cents apart,
        widest first.
    """

    a4_hz: float
    pull_mm: tuple[float, ...]
    apart: tuple[tuple[int, float], ...]


def common_pitch(members: Sequence[ConsortMember], *, a4_hz: float) -> ConsortPitch:
    """Return the concert pitch and pulls that bring the members' middles together.

    Parameters
    ----------
    members
        At least one, each with at least one measured note.
    a4_hz
        The concert pitch that the offsets are counted from.

    Notes
    -----
    Heads can only be pulled, so the flattest instrument sets the pitch and the others come down
    to it, each by the pull (0 to 2 mm) that brings its median note nearest. What a pull cannot do
    is shared: the pitch lies midway between the flattest and the sharpest that are left.
    """
    medians = [float(np.median(member.offset_cents)) for member in members]
    flattest = min(medians)
    pulls = tuple(
        _pull_mm(member, median - flattest) for member, median in zip(members, medians, strict=True)
    )
    left = [_pulled_median(member, pull) for member, pull in zip(members, pulls, strict=True)]
    common = (min(left) + max(left)) / 2.0
    return ConsortPitch(shifted_hz(a4_hz, cents=common), pulls, _apart(members, pulls))


def _pulled_median(member: ConsortMember, pull_mm: float) -> float:
    return float(np.median(np.array(member.offset_cents) + pull_mm * np.array(member.cents_per_mm)))


def _pull_mm(member: ConsortMember, too_sharp_cents: float) -> float:
    per_mm = -float(np.median(member.cents_per_mm))
    wanted = too_sharp_cents / per_mm if per_mm > 0.0 else 0.0
    stepped = round(wanted / _PULL_STEP_MM) * _PULL_STEP_MM
    return float(np.clip(stepped, 0.0, LARGEST_PULL_MM))


def _apart(
    members: Sequence[ConsortMember], pulls: Sequence[float]
) -> tuple[tuple[int, float], ...]:
    played: dict[int, list[float]] = {}
    for member, pull in zip(members, pulls, strict=True):
        rows = zip(member.midi, member.offset_cents, member.cents_per_mm, strict=True)
        for midi, offset, per_mm in rows:
            played.setdefault(midi, []).append(offset + pull * per_mm)
    spreads = ((midi, max(cents) - min(cents)) for midi, cents in played.items())
    wide = [(midi, spread) for midi, spread in spreads if spread > 10.0]
    return tuple(sorted(wide, key=lambda entry: -entry[1]))
