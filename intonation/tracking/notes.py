"""From the fine course of a note to the figures of a held note."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.events import HeldNote
from intonation.tracking.median_noise import median_noise_variance
from intonation.tracking.tracing import trace_of
from intonation.tracking.vibrato import vibrato_in

Real = NDArray[np.float64]

SUSTAIN_FROM_S = 0.15
_SHORT_NOTE_PART = 0.35
_LEAST_MOVEMENT_DB = 3.0
_EDGE_S, _MOMENT_S = 0.006, 0.001
"""How far it is a matter of taste where a sustain begins and ends, however well that is known."""
_TURNING = 0.3
"""Found in simulation with vibratos in rooms."""
_CONTINUED_S = 0.02
_CENTS = 1200.0 / np.log(2.0)


@dataclass(frozen=True, slots=True)
class NoteCourse:
    """What is known of one note at every hop, each of shape ``(hops,)``.

    Parameters
    ----------
    time_s, f0_hz
        Course of the fundamental.
    error_cents, window_s
        Its standard error, and the length of the window that it comes from.
    partials_db, level_db
        RMS level in dBFS of the partials alone, and of everything.
    harmonic_to_noise_db
        Partials over everything else.
    """

    time_s: Real
    f0_hz: Real
    error_cents: Real
    window_s: Real
    partials_db: Real
    level_db: Real
    harmonic_to_noise_db: Real

    @staticmethod
    def joined(courses: Sequence["NoteCourse"]) -> "NoteCourse":
        """Return courses that follow one another as one."""
        return NoteCourse(
            *(np.concatenate([getattr(c, f.name) for c in courses]) for f in fields(NoteCourse))
        )

    def where(self, chosen: NDArray[np.bool_]) -> "NoteCourse":
        """Return the chosen hops only."""
        return NoteCourse(*(getattr(self, f.name)[chosen] for f in fields(NoteCourse)))


def held_note(
    course: NoteCourse,
    *,
    onset_s: float,
    offset_s: float,
    onset_error_s: float,
    offset_error_s: float,
    delay_s: float = 0.0,
) -> HeldNote:
    """Return the figures of a note over its sustain.

    Parameters
    ----------
    course
        The whole note.
    onset_s, offset_s
        Its begin and end. The sustain begins 0.15 s after the onset, in a short note earlier.
    onset_error_s, offset_error_s
        Their standard errors.
    delay_s
        By how much a room delays the sound.
    """
    begins_s = onset_s + min(SUSTAIN_FROM_S, _SHORT_NOTE_PART * (offset_s - onset_s))
    inside = (course.time_s >= begins_s) & (course.time_s <= offset_s)
    sustain = course.where(inside) if np.any(inside) else course
    median_hz = _median_hz(course, begins_s, offset_s)
    cents = _CENTS * np.log(sustain.f0_hz / median_hz)
    drift, spread = _line(sustain.time_s, cents, sustain.error_cents)
    vibrato = vibrato_in(sustain.time_s, cents)
    return HeldNote(
        onset_s=onset_s,
        offset_s=offset_s,
        f0_hz=median_hz,
        standard_error_cents=math.sqrt(
            _noise_variance(sustain, cents)
            + _edge_variance(course, begins_s, offset_s, by_s=(onset_error_s, 0.0))
            + _edge_variance(course, begins_s, offset_s, by_s=(0.0, offset_error_s))
            + _room_variance(sustain.time_s, cents, delay_s)
        ),
        sd_cents=spread,
        drift_cents_per_s=drift if vibrato is None else vibrato.drift_cents_per_s,
        level_db=_mean_db(sustain.level_db),
        harmonic_to_noise_db=float(np.median(sustain.harmonic_to_noise_db)),
        cents_per_db=_cents_per_db(sustain, cents),
        vibrato_hz=None if vibrato is None else vibrato.rate_hz,
        vibrato_cents=None if vibrato is None else vibrato.extent_cents,
        trace=trace_of(
            course.time_s,
            course.f0_hz,
            course.level_db,
            onset_s=onset_s,
            offset_s=offset_s,
            note_hz=median_hz,
        ),
    )


def _noise_variance(sustain: NoteCourse, cents: Real) -> float:
    hop_s = (sustain.time_s[-1] - sustain.time_s[0]) / max(sustain.time_s.size - 1, 1)
    return median_noise_variance(cents, sustain.error_cents, sustain.window_s, hop_s=hop_s)


def _edge_variance(
    course: NoteCourse, begins_s: float, ends_s: float, *, by_s: tuple[float, float]
) -> float:
    """Return the variance of the median that comes from where exactly the sustain begins or ends.

    It matters when the pitch moves.
    """
    first_s, last_s = (math.hypot(error_s, _EDGE_S) if error_s else 0.0 for error_s in by_s)
    earlier_hz = _median_hz(course, begins_s - first_s, ends_s - last_s)
    later_hz = _median_hz(course, begins_s + first_s, ends_s + last_s)
    median_hz = _median_hz(course, begins_s, ends_s)
    moved = [_CENTS * math.log(hz / median_hz) for hz in (earlier_hz, later_hz)]
    return 0.5 * (math.pow(moved[0], 2) + math.pow(moved[1], 2))


def _room_variance(time_s: Real, cents: Real, delay_s: float) -> float:
    """Return the variance of the median that comes from a room, which delays what it reflects.

    A movement that goes on shifts the median by as much as it goes on in that time; one that turns
    shifts it by less.
    """
    if delay_s == 0.0 or time_s.size < 3:
        return 0.0
    slopes = np.diff(cents) / np.diff(time_s)
    going_on = float(cents[-1] - cents[0]) / float(time_s[-1] - time_s[0])
    return delay_s**2 * (going_on**2 + _TURNING * float(np.var(slopes)))


def _median_hz(course: NoteCourse, begin_s: float, end_s: float) -> float:
    """Return the median of the fundamental over a time, as if it were known at every moment."""
    moments = int(max(end_s - begin_s, 0.0) / _MOMENT_S) + 1
    time_s = np.linspace(begin_s, max(begin_s, end_s), moments)
    return float(np.median(_continued(time_s, course.time_s, course.f0_hz)))


def _continued(moments_s: Real, time_s: Real, f0_hz: Real) -> Real:
    """Interpolate, and go on at either end as the pitch went within it, but not for long."""
    inside = np.interp(moments_s, time_s, f0_hz)
    if time_s.size < 2:
        return inside
    per_s = np.diff(f0_hz)[[0, -1]] / np.diff(time_s)[[0, -1]]
    before_s = np.clip(moments_s - time_s[0], -_CONTINUED_S, 0.0)
    after_s = np.clip(moments_s - time_s[-1], 0.0, _CONTINUED_S)
    return np.asarray(inside + per_s[0] * before_s + per_s[1] * after_s)


def _line(time_s: Real, cents: Real, error_cents: Real) -> tuple[float, float]:
    """Return slope and spread about the straight line.

    Where noise outweighs the true unsteadiness, the better known frames count for more.
    """
    if time_s.size < 3:
        return 0.0, 0.0
    unsteady = max(float(np.var(_about_line(time_s, cents, np.ones_like(cents))[1])), 1e-6)
    noise = float(np.median(error_cents**2))
    weights = 1.0 / (max(unsteady - noise, 0.0) + error_cents**2 + 1e-9)
    slope, rest = _about_line(time_s, cents, weights)
    return slope, float(np.std(rest))


def _about_line(time_s: Real, cents: Real, weights: Real) -> tuple[float, Real]:
    share = weights / np.sum(weights)
    centred = time_s - np.sum(share * time_s)
    level = cents - np.sum(share * cents)
    slope = float(np.sum(share * centred * level) / np.sum(share * centred**2))
    return slope, level - slope * centred


def _cents_per_db(sustain: NoteCourse, cents: Real) -> float | None:
    """Return the slope of the pitch over the level, where the level moved enough to tell."""
    low, high = np.percentile(sustain.partials_db, (5, 95))
    if high - low < _LEAST_MOVEMENT_DB:
        return None
    centred = sustain.partials_db - np.mean(sustain.partials_db)
    return float(np.sum(centred * cents) / np.sum(centred**2))


def _mean_db(level_db: Real) -> float:
    return float(10.0 * np.log10(np.mean(10.0 ** (level_db / 10.0))))
