"""A note while it sounds: its coarse frames, refined stretch by stretch, then its figures."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.attack import onset_edge
from intonation.tracking.coarse import WINDOW_S, CoarseFrame
from intonation.tracking.demodulation import Baseband, demodulate
from intonation.tracking.edge_shapes import Edge
from intonation.tracking.events import HeldNote, PitchFrame
from intonation.tracking.notes import NoteCourse, held_note
from intonation.tracking.recent_sound import RecentSound
from intonation.tracking.refinement import VALUES_PER_HOP, FineCourse, refine
from intonation.tracking.release import release_edge
from intonation.tracking.reverberation import delay_s

Real = NDArray[np.float64]

_STRETCH_HOPS, _CONTEXT_HOPS, _MARGIN_HOPS = 100, 25, 16
_BEFORE_HOPS, _AFTER_HOPS = 5, 5
_COARSE_ERROR_CENTS = 5.0
_STRAY = np.log(2.0) / 12.0


@dataclass(frozen=True, slots=True)
class HopClock:
    """Samples per second and per hop."""

    rate_hz: float
    hop_samples: int

    def boundary(self, hop: int) -> int:
        """Return the sample between the hop before and this one."""
        return hop * self.hop_samples - self.hop_samples // 2

    def between_hops(self, hop: int) -> Edge:
        """Return the same boundary as an edge that is known to about half a hop."""
        return Edge(self.boundary(hop), 0.5 * self.hop_samples)

    def time_s(self, hop: float) -> float:
        """Return when a hop is."""
        return hop * self.hop_samples / self.rate_hz


class SoundingNote:
    """One note from its onset on.

    Parameters
    ----------
    first
        First hop in which it sounds.
    not_before
        Hop up to which something else sounded.
    joined
        Whether it follows the note before without a gap: then it begins half a hop before.
    sound, clock
        The sound, and its rates.
    """

    def __init__(
        self,
        first: int,
        *,
        not_before: int,
        joined: bool = False,
        sound: RecentSound,
        clock: HopClock,
    ) -> None:
        self._sound, self._clock = sound, clock
        self._earliest = max(not_before, first - _BEFORE_HOPS, 0)
        self._settled_to = first
        self._frames: list[CoarseFrame] = []
        self._not_before = clock.boundary(self._earliest)
        self._onset = clock.between_hops(first) if joined else None
        self._release: Edge | None = None
        self._delay_s = 0.0
        self._courses: list[NoteCourse] = []

    @property
    def needs_sound_from(self) -> int:
        """First sample that is still needed."""
        return max(self._earliest, self._settled_to - _CONTEXT_HOPS - 1) * self._clock.hop_samples

    def feed(self, frame: CoarseFrame) -> list[PitchFrame]:
        """Take the next frame; return pitch frames that have become final."""
        self._frames.append(frame)
        due = self._settled_to + _STRETCH_HOPS
        if frame.index < due + _CONTEXT_HOPS + _MARGIN_HOPS:
            return []
        return self._settle(due, due + _CONTEXT_HOPS, ends=False)

    def end(self, last: int, *, joined: bool) -> tuple[list[PitchFrame], HeldNote]:
        """End the note at a hop; return its remaining frames and its figures.

        Where the next note is joined to it, nothing after that hop belongs to this one.
        """
        after = [f for f in self._frames if f.index > last]
        self._frames = [f for f in self._frames if f.index <= last]
        self._release = self._clock.between_hops(last + 1) if joined else None
        sound_to = last + 1 + (0 if joined else _AFTER_HOPS)
        frames = [
            *self._settle(last + 1, sound_to, ends=True),
            *(self._pitch_frame(f, None) for f in after),
        ]
        onset, release = self._edges()
        rate_hz = self._clock.rate_hz
        note = held_note(
            NoteCourse.joined(self._courses),
            onset_s=onset.sample / rate_hz,
            offset_s=release.sample / rate_hz,
            onset_error_s=onset.error_samples / rate_hz,
            offset_error_s=release.error_samples / rate_hz,
            delay_s=self._delay_s,
        )
        return frames, note

    def _edges(self) -> tuple[Edge, Edge]:
        onset = self._onset or Edge(0, 0.0)
        return onset, self._release or onset

    def _settle(self, to_hop: int, sound_to_hop: int, *, ends: bool) -> list[PitchFrame]:
        """Refine what is due up to a hop, by the sound up to another."""
        fine = self._refined(sound_to_hop, ends=ends)
        due = [f for f in self._frames if self._settled_to <= f.index < to_hop]
        f0_hz = self._pitches(due, fine)
        if due:
            self._courses.append(_course(due, fine, self._clock))
        self._settled_to = to_hop
        self._frames = [f for f in self._frames if f.index >= to_hop - _CONTEXT_HOPS - 1]
        return [self._pitch_frame(f, hz) for f, hz in zip(due, f0_hz, strict=True)]

    def _pitch_frame(self, frame: CoarseFrame, f0_hz: float | None) -> PitchFrame:
        time_s = self._clock.time_s(frame.index)
        return PitchFrame(time_s, f0_hz, frame.harmonic_to_noise_db, frame.level_db)

    def _refined(self, sound_to_hop: int, *, ends: bool) -> FineCourse | None:
        hop = self._clock.hop_samples
        begin, end = self.needs_sound_from, sound_to_hop * hop
        samples = self._sound.between(begin, end)
        baseband = self._demodulated(samples, begin)
        rate_hz = self._clock.rate_hz
        if self._onset is None:
            found = onset_edge(baseband, rate_hz=rate_hz)
            self._onset = replace(found, sample=max(0, self._not_before, found.sample))
        onset = self._onset.sample
        if ends and self._release is None:
            self._release = release_edge(baseband, onset=onset, rate_hz=rate_hz)
            self._delay_s = delay_s(baseband, release=self._release.sample, rate_hz=rate_hz)
        inside = baseband.between(onset, end if self._release is None else self._release.sample)
        return refine(inside, rate_hz=rate_hz, hop_samples=hop)

    def _demodulated(self, samples: Real, begin: int) -> Baseband:
        hop = self._clock.hop_samples
        pitches_hz = np.array([f.advance_hz for f in self._frames])
        places = (np.array([f.index for f in self._frames]) - 0.5) * hop
        near = np.abs(np.log(pitches_hz / np.median(pitches_hz))) < _STRAY
        presumed_hz = np.interp(
            np.arange(begin, begin + samples.size), places[near], pitches_hz[near]
        )
        return demodulate(
            samples,
            begin=begin,
            presumed_hz=presumed_hz,
            rate_hz=self._clock.rate_hz,
            spacing=hop // VALUES_PER_HOP,
        )

    def _pitches(self, due: list[CoarseFrame], fine: FineCourse | None) -> list[float | None]:
        """Return the pitch of each frame; the fine course is held on to the edges of the note."""
        hop = self._clock.hop_samples
        first = 0 if self._onset is None else self._onset.sample
        last = np.inf if self._release is None else self._release.sample
        inside = [first <= f.index * hop <= last for f in due]
        if fine is None:
            return [f.advance_hz if is_in else None for f, is_in in zip(due, inside, strict=True)]
        held = np.interp([f.index for f in due], fine.hops, fine.f0_hz).tolist()
        return [hz if is_in else None for hz, is_in in zip(held, inside, strict=True)]


def _course(due: list[CoarseFrame], fine: FineCourse | None, clock: HopClock) -> NoteCourse:
    """Return the fine course of the frames that are due, or the coarse one if it is too short."""
    hops = np.array([f.index for f in due])
    if fine is None or not np.any(np.isin(fine.hops, hops)):
        f0_hz = np.array([f.advance_hz for f in due])
        mine = np.ones(hops.size, dtype=bool)
        error_cents = np.full(hops.size, _COARSE_ERROR_CENTS)
        window_s = np.full(hops.size, WINDOW_S)
        partials_db = np.array([f.harmonic_db for f in due])
    else:
        mine, wanted = np.isin(hops, fine.hops), np.isin(fine.hops, hops)
        f0_hz, error_cents = fine.f0_hz[wanted], fine.error_cents[wanted]
        window_s, partials_db = fine.window_s[wanted], fine.partials_db[wanted]
    return NoteCourse(
        time_s=hops[mine] * clock.hop_samples / clock.rate_hz,
        f0_hz=f0_hz,
        error_cents=error_cents,
        window_s=window_s,
        partials_db=partials_db,
        level_db=np.array([f.level_db for f in due])[mine],
        harmonic_to_noise_db=np.array([f.harmonic_to_noise_db for f in due])[mine],
    )
