"""Where notes begin and end: runs of tonal frames, cut at leaps of pitch and dips of level."""

import math
from collections import deque
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean

from intonation.tracking.coarse import CoarseFrame
from intonation.tracking.frame_runs import (
    STEP_SIDE,
    cents_apart,
    falls_off,
    is_step,
    is_tonal,
    is_voice,
    median_db,
    median_hz,
    spread_cents,
)

_BEGIN_HNR_DB, _GO_ON_HNR_DB = 4.0, 1.0
_QUIETEST_DB = -85.0
_FRAMES_TO_BEGIN = 8
_SPREAD_CENTS = 40.0
_LEAP_CENTS, _LEAP_FRAMES = 60.0, 3
_FAST_CENTS, _SETTLED_CENTS, _SETTLED_FRAMES, _AWAY_FRAMES = 20.0, 15.0, 13, 30
_FALL_DB = 18.0
_SILENT_FRAMES = 2
_DIP_DB, _DIP_REACH, _DIP_BEFORE = 9.0, 5, 25
_SMALL_DIP_DB, _BACK_DB = 4.5, 5.0
_STEP_FRAMES = 26
_EDGE_DB = 9.0
_RECENT, _LEVEL_RECENT = 31, 20
_TAIL_FRAMES, _TAIL_RISE_DB = 120, 6.0
_TAIL_BELOW_DB, _TAIL_FALL_DB_PER_FRAME = 4.0, 0.3
_LOOK_BACK, _LOOK_BACK_HNR_DB = 14, 0.0
_CLICK_DB, _RISE_BACK_DB = 6.0, 1.5
_FAINT_FRAMES, _FAINT_SPREAD_CENTS = 14, 12.0
"""What hardly stands out of noise, but stays where it is for so long, is a note."""
_SWINGING_CENTS, _AT_THE_DIP = 6.0, 3
"""A vibrato, of which a room makes dips of level as deep as a tongue does."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A note has begun; ``first`` is the first hop in which it sounds."""

    first: int
    f0_hz: float


@dataclass(frozen=True, slots=True)
class Ended:
    """The note ended at hop ``last``; the next one may be ``joined`` to it without a gap."""

    last: int
    joined: bool = False


@dataclass(slots=True)
class _Tail:
    """What a note leaves in the room: its pitch, its level, and how far that has fallen since."""

    f0_hz: float
    level_db: float
    lowest_db: float
    ended: int

    def explains(self, run: list[CoarseFrame]) -> bool:
        """Whether a run of frames is no new note but the last one dying away."""
        since = run[0].index - self.ended
        if since > _TAIL_FRAMES or cents_apart(median_hz(run), self.f0_hz) > _LEAP_CENTS:
            return False
        level_db = median_db(run)
        has_risen = level_db > self.lowest_db + _TAIL_RISE_DB
        least_db = self.level_db - _TAIL_BELOW_DB - _TAIL_FALL_DB_PER_FRAME * since
        return not has_risen or level_db < least_db


class Segmentation:
    """A state machine over coarse frames: silent, or in a note."""

    def __init__(self) -> None:
        self._run: list[CoarseFrame] = []
        self._note: deque[CoarseFrame] | None = None
        self._away: list[CoarseFrame] = []
        self._tail: _Tail | None = None
        self._faint: deque[CoarseFrame] = deque(maxlen=_FAINT_FRAMES)
        self._earlier: deque[CoarseFrame] = deque(maxlen=_LOOK_BACK)

    @property
    def unsettled_from(self) -> int | None:
        """In a silence, the earliest hop that may turn out to belong to a note not known yet."""
        waiting = [*self._earlier, *self._run]
        return waiting[0].index if waiting else None

    def feed(self, frame: CoarseFrame) -> list[Begun | Ended]:
        """Take the next frame and return what it decides."""
        return self._in_silence(frame) if self._note is None else self._in_note(self._note, frame)

    def finish(self) -> list[Begun | Ended]:
        """End the note that is sounding, if any."""
        if self._note is None:
            return []
        last = self._note[-1].index
        self._note = None
        return [Ended(last)]

    def _in_silence(self, frame: CoarseFrame) -> list[Begun | Ended]:
        if self._tail is not None:
            self._tail.lowest_db = min(self._tail.lowest_db, frame.harmonic_db)
        if is_tonal(frame, quietest_db=_QUIETEST_DB, least_hnr_db=_GO_ON_HNR_DB):
            self._faint.append(frame)
        else:
            self._faint.clear()
        if is_tonal(frame, quietest_db=_QUIETEST_DB, least_hnr_db=_BEGIN_HNR_DB):
            self._run.append(frame)
        else:
            self._earlier.extend([*self._run, frame])
            self._run = []
        while spread_cents(self._run) > _SPREAD_CENTS or len(self._run) > _FRAMES_TO_BEGIN:
            self._earlier.append(self._run.pop(0))
        for run in (self._run, list(self._faint) if self._is_faint_note() else []):
            if len(run) >= _FRAMES_TO_BEGIN and not self._is_something_else(run):
                return [self._begin(run)]
        return []

    def _is_faint_note(self) -> bool:
        full = len(self._faint) == _FAINT_FRAMES
        return full and spread_cents(list(self._faint)) < _FAINT_SPREAD_CENTS

    def _is_something_else(self, run: list[CoarseFrame]) -> bool:
        """Whether a run is a click, a voice, a hum or a tail."""
        falls_db = max(f.harmonic_db for f in run) - run[-1].harmonic_db
        is_tail = self._tail is not None and self._tail.explains(run)
        is_hum = fmean(f.constant for f in run) > 0.5
        return falls_db > _CLICK_DB or is_voice(run) or is_tail or is_hum

    def _begin(self, run: list[CoarseFrame]) -> Begun:
        first = self._first_of(run)
        self._note = deque(run, maxlen=_RECENT)
        self._run, self._away, self._tail = [], [], None
        self._earlier.clear()
        self._faint.clear()
        return Begun(first, median_hz(run))

    def _first_of(self, run: list[CoarseFrame]) -> int:
        """Return the first hop that belongs to the note of a run: the run may have begun late."""
        quietest_db = median_db(run) - _EDGE_DB
        first = next(f.index for f in run if f.harmonic_db > quietest_db)
        if first > run[0].index:
            return first
        pitch_hz, lowest_db = median_hz(run), run[0].harmonic_db
        for frame in reversed([f for f in self._earlier if f.index < first]):
            tonal = is_tonal(frame, quietest_db=quietest_db, least_hnr_db=_LOOK_BACK_HNR_DB)
            if not tonal or cents_apart(frame.f0_hz, pitch_hz) > _LEAP_CENTS:
                break
            if frame.harmonic_db > lowest_db + _RISE_BACK_DB:
                break
            first, lowest_db = frame.index, min(lowest_db, frame.harmonic_db)
        return first

    def _in_note(self, note: deque[CoarseFrame], frame: CoarseFrame) -> list[Begun | Ended]:
        recent = list(note)[-_LEVEL_RECENT:]
        quietest_db = max(max(f.harmonic_db for f in recent) - _FALL_DB, _QUIETEST_DB)
        sounds = is_tonal(frame, quietest_db=quietest_db, least_hnr_db=_GO_ON_HNR_DB)
        if sounds and cents_apart(frame.f0_hz, median_hz(recent)) < _LEAP_CENTS:
            self._away = []
            note.append(frame)
            return self._cut_at_dip(note) or self._cut_at_step(note)
        self._away.append(frame)
        silent = sum(
            not is_tonal(f, quietest_db=quietest_db, least_hnr_db=_GO_ON_HNR_DB) for f in self._away
        )
        has_leapt = self._has_leapt(note)
        if (not sounds and silent >= _SILENT_FRAMES) or has_leapt:
            lowest_db = min(f.harmonic_db for f in self._away)
            return self._end(note, self._away, lowest_db=lowest_db, joined=has_leapt and not silent)
        return []

    def _has_leapt(self, note: deque[CoarseFrame]) -> bool:
        """Whether the pitch has gone to stay; a wide vibrato goes as far, but slowly, and turns."""
        there = self._away[-_LEAP_FRAMES:]
        if len(there) < _LEAP_FRAMES or spread_cents(there) > _SPREAD_CENTS:
            return False
        way = [*list(note)[-_LEAP_FRAMES:], *self._away]
        fastest = max(cents_apart(a.f0_hz, b.f0_hz) for a, b in pairwise(way))
        settled = self._away[-_SETTLED_FRAMES:]
        has_settled = len(settled) == _SETTLED_FRAMES and spread_cents(settled) < _SETTLED_CENTS
        return fastest > _FAST_CENTS or has_settled or len(self._away) >= _AWAY_FRAMES

    def _cut_at_dip(self, note: deque[CoarseFrame]) -> list[Begun | Ended]:
        """End the note where its level dipped and came back within a few hops: it was tongued."""
        if len(note) < 2 * _DIP_REACH + 1:
            return []
        recent = list(note)[-_DIP_BEFORE - _DIP_REACH - 1 :]
        levels = [f.harmonic_db for f in recent]
        middle, after = levels[-_DIP_REACH - 1], max(levels[-_DIP_REACH:-1])
        before = max(levels[: -_DIP_REACH - 1])
        lowest = min(levels[-2 * _DIP_REACH - 1 :])
        dip_db = min(before, after) - middle
        if dip_db < _SMALL_DIP_DB or middle > lowest:
            return []
        is_back = after > before - _BACK_DB and falls_off(levels[:-_DIP_REACH])
        lately = recent[: -_DIP_REACH - _AT_THE_DIP][-_LEVEL_RECENT:]
        swings = spread_cents(lately) > _SWINGING_CENTS
        is_deep = dip_db >= _DIP_DB
        if not (is_back and is_deep if swings else is_back or is_deep):
            return []
        for _ in range(_DIP_REACH + 1):
            note.pop()
        return self._end(note, recent[-_DIP_REACH:], lowest_db=middle, is_new=is_back)

    def _cut_at_step(self, note: deque[CoarseFrame]) -> list[Begun | Ended]:
        """End the note where its pitch went from one level to another: a finger moved."""
        frames = list(note)[-_STEP_FRAMES:]
        if len(frames) < _STEP_FRAMES or not is_step(frames):
            return []
        middle_hz = math.sqrt(median_hz(frames[:STEP_SIDE]) * median_hz(frames[-STEP_SIDE:]))
        was_lower = frames[0].f0_hz < middle_hz
        between = frames[STEP_SIDE:-STEP_SIDE]
        stayed = sum((f.f0_hz < middle_hz) == was_lower for f in between)
        then = frames[STEP_SIDE + stayed :]
        for _ in then:
            note.pop()
        return self._end(note, then, lowest_db=-math.inf, joined=True)

    def _end(
        self,
        note: deque[CoarseFrame],
        then: list[CoarseFrame],
        *,
        lowest_db: float,
        joined: bool = False,
        is_new: bool = False,
    ) -> list[Begun | Ended]:
        """End the note at its last loud frame and look at the frames after it anew."""
        level_db = median_db(note)
        loud = [f for f in note if f.harmonic_db > level_db - _EDGE_DB]
        last = loud[-1]
        tail = _Tail(median_hz(note), level_db, lowest_db, last.index)
        self._tail = None if joined or is_new else tail
        ended: list[Begun | Ended] = [Ended(last.index, joined)]
        self._note, self._run, self._away = None, [], []
        for frame in then:
            ended.extend(self.feed(frame))
        return ended
