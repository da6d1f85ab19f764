"""What a player can do about notes that only a knife would cure: breath, or other fingers."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from intonation.instruments.breath import breath_slopes
from intonation.instruments.fingering import HOLES, Fingering
from intonation.workshop.causes import RankedCause
from intonation.workshop.compass import Cents, Compass

_LIKELY = 0.1
_MOVED_SHARE = 0.3
_WORTH_CENTS = 3.0


@dataclass(frozen=True, slots=True)
class GettingBy:
    """One note that a hole too small has made flat, and how to play it all the same.

    Parameters
    ----------
    midi
        The note.
    flat_cents
        How far below the middle of all notes it probably lies.
    fingering
        Another fingering that brings it nearer; None where breath has to do.
    sharper_cents
        What the model expects of that fingering; 0 without one.
    """

    midi: int
    flat_cents: float
    fingering: Fingering | None = None
    sharper_cents: float = 0.0


def getting_by(
    compass: Compass, expected_cents: Cents, ranked: Sequence[RankedCause]
) -> tuple[GettingBy, ...]:
    """Return the notes that a hole too small, or too far down, makes flat, and how to play them.

    Parameters
    ----------
    compass
        The instrument as the model knows it.
    expected_cents
        Where its notes probably lie, NaN where unknown.
    ranked
        Its causes as ranked.
    """
    if not np.isfinite(expected_cents).any():
        return ()
    middle = (np.nanmax(expected_cents) + np.nanmin(expected_cents)) / 2.0
    flat = dict(zip(compass.midi, (middle - expected_cents).tolist(), strict=True))
    moved = set(_moved_flat(compass, ranked))
    too_flat = (m for m in compass.midi if m in moved and flat[m] > breath_slopes().reach_cents)
    return tuple(_played(compass, midi, flat[midi]) for midi in too_flat)


def _moved_flat(compass: Compass, ranked: Sequence[RankedCause]) -> Iterator[int]:
    """Yield the notes of every likely hole that only cutting would put right."""
    for entry in ranked:
        of_a_hole = entry.cause.kind in ("hole size", "hole place")
        if of_a_hole and entry.size_cents < 0.0 and entry.probability >= _LIKELY:
            for midi, share in zip(compass.midi, entry.cause.pattern, strict=True):
                if share > _MOVED_SHARE:
                    yield midi


def _played(compass: Compass, midi: int, flat_cents: float) -> GettingBy:
    found = ((each, _sharper_cents(compass, midi, each)) for each in _others(compass, midi))
    sharper = [(each, cents) for each, cents in found if cents > 0.0]
    if sharper:
        nearest, cents = min(sharper, key=lambda one: abs(flat_cents - one[1]))
        if abs(flat_cents - cents) < flat_cents - _WORTH_CENTS:
            return GettingBy(midi, flat_cents, nearest, cents)
    return GettingBy(midi, flat_cents)


def _others(compass: Compass, midi: int) -> Iterator[Fingering]:
    """Yield other fingerings: those of the chart, and the usual one with a lower finger lifted."""
    note = None if compass.instrument is None else compass.instrument.chart_note(midi)
    if note is None:
        return
    yield from (alternative.fingering for alternative in note.alternatives)
    yield from _with_a_finger_lifted(note.fingering)


def _with_a_finger_lifted(usual: Fingering) -> Iterator[Fingering]:
    """Yield the fingering with one finger below the first open hole off its hole, or half off."""
    marks = {hole: usual.mark(hole) for hole in HOLES}
    first_open = min((HOLES.index(hole) for hole in usual.open_fingers), default=len(HOLES))
    for hole in HOLES[first_open:]:
        for lifted in {"6": ("6a", "-"), "7": ("7a", "-")}.get(hole, ("-",)):
            if marks[hole] == hole:
                left = "".join({**marks, hole: lifted}[each] for each in HOLES[1:])
                yield Fingering(f"{marks['0']} {left[:3]} {left[3:]}")


def _sharper_cents(compass: Compass, midi: int, other: Fingering) -> float:
    """Return how much sharper another fingering is, NaN where it does not sound near the note."""
    usual = compass.fingerings[compass.midi.index(midi)]
    both = Compass(compass.geometry, (midi, midi), (usual, other.open_fractions()))
    before, after = both.cents(compass.geometry).tolist()
    return float(after - before)
