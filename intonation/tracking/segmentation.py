"""Where notes begin and end: runs of steady, tonal frames, cut at leaps of pitch and dips of level."""

from collections import deque
from dataclasses import dataclass

import numpy as np

from intonation.tracking.coarse import CoarseFrame

_BEGIN_HNR_DB, _GO_ON_HNR_DB = 6.0, 2.0
_QUIETEST_DB = -85.0
_FRAMES_TO_BEGIN = 8
_SPREAD_CENTS = 40.0
_LEAP_CENTS, _LEAP_FRAMES = 60.0, 3
_FALL_DB = 18.0
_SILENT_FRAMES = 2
_DIP_DB, _DIP_REACH = 9.0, 5
_EDGE_DB = 9.0
_RECENT = 20
_CENTS = 1200.0 / np.log(2.0)


@dataclass(frozen=True, slots=True)
class Begun:
    """A note has begun; ``first`` is the first hop in which it sounds."""

    first: int
    f0_hz: float


@dataclass(frozen=True, slots=True)
class Ended:
    """The note has ended; ``last`` is the last hop in which it sounded."""

    last: int


class Segmentation:
    """A state machine over coarse frames: silent, or in a note."""

    def __init__(self) -> None:
        self._run: list[CoarseFrame] = []
        self._note: deque[CoarseFrame] | None = None
        self._away: list[CoarseFrame] = []

    @property
    def unsettled_from(self) -> int | None:
        """The earliest hop that may still turn out to belong to a note that is not known yet."""
        waiting = self._run or self._away
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
        tonal = frame.harmonic_to_noise_db >= _BEGIN_HNR_DB and frame.harmonic_db > _QUIETEST_DB
        if not tonal:
            self._run = []
            return []
        self._run.append(frame)
        while _spread_cents(self._run) > _SPREAD_CENTS:
            self._run.pop(0)
        if len(self._run) < _FRAMES_TO_BEGIN:
            return []
        return [self._begin()]

    def _begin(self) -> Begun:
        level_db = float(np.median([f.harmonic_db for f in self._run]))
        loud = [f for f in self._run if f.harmonic_db > level_db - _EDGE_DB]
        self._note = deque(self._run, maxlen=_RECENT)
        self._run, self._away = [], []
        return Begun(loud[0].index, float(np.median([f.f0_hz for f in self._note])))

    def _in_note(self, note: deque[CoarseFrame], frame: CoarseFrame) -> list[Begun | Ended]:
        pitch_hz = float(np.median([f.f0_hz for f in note]))
        level_db = max(f.harmonic_db for f in note)
        cents = _CENTS * abs(np.log(frame.f0_hz / pitch_hz))
        sounds = frame.harmonic_to_noise_db >= _GO_ON_HNR_DB and frame.harmonic_db > max(
            level_db - _FALL_DB, _QUIETEST_DB
        )
        if sounds and cents < _LEAP_CENTS:
            self._away = []
            note.append(frame)
            return self._cut_at_dip(note)
        self._away.append(frame)
        if not sounds and sum(not _sounds(f, level_db) for f in self._away) >= _SILENT_FRAMES:
            return self._end(self._away)
        if (
            len(self._away) >= _LEAP_FRAMES
            and _spread_cents(self._away[-_LEAP_FRAMES:]) < _SPREAD_CENTS
        ):
            return self._end(self._away)
        return []

    def _cut_at_dip(self, note: deque[CoarseFrame]) -> list[Begun | Ended]:
        """End the note where its level dipped and came back within a few hops: it was tongued again."""
        if len(note) < 2 * _DIP_REACH + 1:
            return []
        recent = list(note)[-2 * _DIP_REACH - 1 :]
        levels = [f.harmonic_db for f in recent]
        middle = levels[_DIP_REACH]
        before, after = max(levels[:_DIP_REACH]), max(levels[_DIP_REACH + 1 :])
        if min(before, after) - middle < _DIP_DB or middle > min(levels):
            return []
        for _ in range(_DIP_REACH + 1):
            note.pop()
        return self._end(recent[_DIP_REACH + 1 :])

    def _end(self, then: list[CoarseFrame]) -> list[Begun | Ended]:
        """End the note at its last loud frame and look at the frames after it anew."""
        assert self._note is not None
        level_db = float(np.median([f.harmonic_db for f in self._note]))
        loud = [f for f in self._note if f.harmonic_db > level_db - _EDGE_DB]
        ended: list[Begun | Ended] = [Ended(loud[-1].index)]
        self._note, self._run, self._away = None, [], []
        for frame in then:
            ended.extend(self.feed(frame))
        return ended


def _sounds(frame: CoarseFrame, level_db: float) -> bool:
    return frame.harmonic_to_noise_db >= _GO_ON_HNR_DB and frame.harmonic_db > level_db - _FALL_DB


def _spread_cents(frames: list[CoarseFrame]) -> float:
    pitches = [f.f0_hz for f in frames]
    return _CENTS * float(np.log(max(pitches) / min(pitches)))
