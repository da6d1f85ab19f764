"""From the scored notes of a take to its summary."""

import math
from collections.abc import Iterable, Sequence
from statistics import fmean, pstdev, stdev

from intonation.assessment.scoring import ScoredNote
from intonation.assessment.summary import NoteSummary, TakeSummary


def summed_up(notes: Iterable[ScoredNote]) -> TakeSummary:
    """Return every note of a take with mean, spread and count, worst first.

    The worst note is the one that lies furthest from its target as a rule: the root mean square
    of its deviations counts both a constant error and an unsteady one.
    """
    by_midi: dict[int, list[float]] = {}
    for note in notes:
        by_midi.setdefault(note.target.midi, []).append(note.cents)
    worst_first = sorted(by_midi, key=lambda midi: (-_rms(by_midi[midi]), midi))
    summaries = tuple(_summary(midi, by_midi[midi]) for midi in worst_first)
    return TakeSummary(summaries, worst_first[0] if worst_first else None)


def _rms(cents: Sequence[float]) -> float:
    return math.hypot(fmean(cents), pstdev(cents))


def _summary(midi: int, cents: Sequence[float]) -> NoteSummary:
    spread_cents = stdev(cents) if len(cents) > 1 else 0.0
    return NoteSummary(midi, fmean(cents), spread_cents, len(cents))
