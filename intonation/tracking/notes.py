"""From the fine course of a note to the figures of a held note."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.events import HeldNote

Real = NDArray[np.float64]

SUSTAIN_FROM_S = 0.15
_SHORT_NOTE_PART = 0.35
_CENTS = 1200.0 / np.log(2.0)


@dataclass(frozen=True, slots=True)
class NoteCourse:
    """What is known of one note at every hop, each of shape ``(hops,)``."""

    time_s: Real
    f0_hz: Real
    error_cents: Real
    window_s: Real
    level_db: Real
    harmonic_to_noise_db: Real

    @staticmethod
    def joined(courses: Sequence["NoteCourse"]) -> "NoteCourse":
        """Return courses that follow one another as one."""
        return NoteCourse(
            *(np.concatenate([getattr(c, f.name) for c in courses]) for f in fields(NoteCourse))
        )


def held_note(course: NoteCourse, *, onset_s: float, offset_s: float) -> HeldNote:
    """Return the figures of a note over its sustain."""
    wait_s = min(SUSTAIN_FROM_S, _SHORT_NOTE_PART * (offset_s - onset_s))
    inside = (course.time_s >= onset_s + wait_s) & (course.time_s <= offset_s)
    if not np.any(inside):
        inside = np.ones(course.time_s.size, dtype=bool)
    time_s, f0_hz = course.time_s[inside], course.f0_hz[inside]
    median_hz = float(np.median(f0_hz))
    cents = _CENTS * np.log(f0_hz / median_hz)
    drift, spread = _line(time_s, cents)
    return HeldNote(
        onset_s=onset_s,
        offset_s=offset_s,
        f0_hz=median_hz,
        standard_error_cents=float(np.median(course.error_cents[inside])),
        sd_cents=spread,
        drift_cents_per_s=drift,
        level_db=float(10.0 * np.log10(np.mean(10.0 ** (course.level_db[inside] / 10.0)))),
        harmonic_to_noise_db=float(np.median(course.harmonic_to_noise_db[inside])),
    )


def _line(time_s: Real, cents: Real) -> tuple[float, float]:
    """Return slope and spread about the straight line."""
    if time_s.size < 3:
        return 0.0, 0.0
    slope, middle = np.polyfit(time_s - np.mean(time_s), cents, 1)
    rest = cents - middle - slope * (time_s - np.mean(time_s))
    return float(slope), float(np.std(rest))
