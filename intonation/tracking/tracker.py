"""Samples in, pitch frames and held notes out: no device, no clock, the same however sound is cut."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.coarse import CoarseAnalysis, CoarseFrame
from intonation.tracking.decimation import Decimator
from intonation.tracking.events import HeldNote, NoteStarted, PitchFrame, TrackerEvent
from intonation.tracking.notes import NoteCourse, held_note
from intonation.tracking.recent_sound import RecentSound
from intonation.tracking.reference import ReferencePartials
from intonation.tracking.refinement import refine
from intonation.tracking.segmentation import Begun, Ended, Segmentation

Real = NDArray[np.float64]

LOWEST_HZ, HIGHEST_HZ = 80.0, 4300.0


@dataclass(frozen=True, slots=True)
class Track:
    """Everything that was heard in a recording."""

    frames: tuple[PitchFrame, ...]
    notes: tuple[HeldNote, ...]


class Tracker:
    """Follows one player.

    Parameters
    ----------
    sample_rate_hz
        Rate of the samples that will be fed, 8 kHz to 192 kHz.
    lowest_hz, highest_hz
        Range of the fundamental.
    reference
        Partials of a reference that sounds in the room; None when nothing but the player sounds.

    Notes
    -----
    `feed` returns events: frames in order of time once they are final (within a note up to 1.5 s late),
    notes as soon as they begin (within 0.2 s) and end (within 0.25 s). For something to look at
    meanwhile, `reading` is at most 60 ms old.
    """

    def __init__(
        self,
        sample_rate_hz: float,
        *,
        lowest_hz: float = LOWEST_HZ,
        highest_hz: float = HIGHEST_HZ,
        reference: ReferencePartials | None = None,
    ) -> None:
        self._decimator = Decimator(sample_rate_hz)
        self._rate_hz = self._decimator.rate_hz
        self._hop = self._decimator.hop_samples
        self._coarse = CoarseAnalysis(
            self._rate_hz, self._hop, lowest_hz=lowest_hz, highest_hz=highest_hz
        )
        self._segmentation = Segmentation()
        self._sound = RecentSound()
        self._frames: list[CoarseFrame] = []
        self._begun: Begun | None = None
        self._reading: PitchFrame | None = None
        self._reference = reference

    @property
    def reading(self) -> PitchFrame | None:
        """The pitch now, at most 60 ms old and less exact than a final frame; None at the very start."""
        return self._reading

    @property
    def suppression_db(self) -> float | None:
        """How far the reference was brought down; None while it is not learned."""
        return None

    @property
    def clock_ppm(self) -> float | None:
        """How much faster the reference runs than its nominal frequencies say."""
        return None

    @property
    def reference_implausible(self) -> bool:
        """Whether what was learned about the reference cannot be right."""
        return False

    def reference_changed(self, reference: ReferencePartials | None) -> None:
        """From now on another reference sounds, or none."""
        self._reference = reference

    def feed(self, samples: NDArray[np.floating]) -> list[TrackerEvent]:
        """Take mono samples, shape ``(any,)``, and return what they settle."""
        return self._heard(self._decimator.feed(samples))

    def finish(self) -> list[TrackerEvent]:
        """End the recording: return everything that was still open."""
        events = self._heard(self._decimator.finish())
        for change in self._segmentation.finish():
            events.extend(self._changed(change))
        return [*events, *self._silent_frames_to(None)]

    def _heard(self, steps: Sequence[Real]) -> list[TrackerEvent]:
        events: list[TrackerEvent] = []
        for step in steps:
            self._sound.append(step)
            for frame in self._coarse.feed(step):
                if frame.index >= 0:
                    events.extend(self._framed(frame))
        return events

    def _framed(self, frame: CoarseFrame) -> list[TrackerEvent]:
        self._frames.append(frame)
        events: list[TrackerEvent] = []
        for change in self._segmentation.feed(frame):
            events.extend(self._changed(change))
        self._reading = self._read(frame)
        if self._begun is None:
            unsettled = self._segmentation.unsettled_from
            events.extend(
                self._silent_frames_to(frame.index + 1 if unsettled is None else unsettled)
            )
        return events

    def _read(self, frame: CoarseFrame) -> PitchFrame:
        sounding = self._begun is not None
        return PitchFrame(
            (frame.index - 0.5 * sounding) * self._hop / self._rate_hz,
            frame.advance_hz if sounding else None,
            frame.harmonic_to_noise_db,
            frame.level_db,
        )

    def _changed(self, change: Begun | Ended) -> list[TrackerEvent]:
        if isinstance(change, Begun):
            self._begun = change
            return [
                *self._silent_frames_to(change.first),
                NoteStarted(self._time_s(change.first), change.f0_hz),
            ]
        begun, self._begun = self._begun, None
        return [] if begun is None else self._note(begun.first, change.last)

    def _note(self, first: int, last: int) -> list[TrackerEvent]:
        frames = [f for f in self._frames if first <= f.index <= last]
        self._frames = [f for f in self._frames if f.index > last]
        begin, end = first * self._hop, (last + 1) * self._hop
        presumed = np.interp(
            np.arange(begin, end),
            [(f.index - 0.5) * self._hop for f in frames],
            [f.advance_hz for f in frames],
        )
        fine = refine(
            self._sound.between(begin, end),
            begin=begin,
            presumed_hz=presumed,
            rate_hz=self._rate_hz,
            hop_samples=self._hop,
        )
        self._sound.forget_before(end - 10 * self._hop)
        if fine is None:
            return [self._silent_frame(f) for f in frames]
        hops = fine.hops - first
        course = NoteCourse(
            fine.hops * self._hop / self._rate_hz,
            fine.f0_hz,
            fine.error_cents,
            np.array([f.level_db for f in frames])[hops],
            np.array([f.harmonic_to_noise_db for f in frames])[hops],
        )
        pitches = dict(zip(fine.hops.tolist(), fine.f0_hz.tolist(), strict=True))
        events: list[TrackerEvent] = [
            PitchFrame(
                self._time_s(f.index), pitches.get(f.index), f.harmonic_to_noise_db, f.level_db
            )
            for f in frames
        ]
        note = held_note(course, onset_s=self._time_s(first), offset_s=self._time_s(last))
        return [*events, note]

    def _silent_frames_to(self, index: int | None) -> list[TrackerEvent]:
        settled = [f for f in self._frames if index is None or f.index < index]
        self._frames = self._frames[len(settled) :]
        if settled and self._begun is None:
            self._sound.forget_before((settled[-1].index - 10) * self._hop)
        return [self._silent_frame(f) for f in settled]

    def _silent_frame(self, frame: CoarseFrame) -> PitchFrame:
        return PitchFrame(
            self._time_s(frame.index), None, frame.harmonic_to_noise_db, frame.level_db
        )

    def _time_s(self, index: int) -> float:
        return index * self._hop / self._rate_hz


def track(
    samples: NDArray[np.floating],
    sample_rate_hz: float,
    *,
    lowest_hz: float = LOWEST_HZ,
    highest_hz: float = HIGHEST_HZ,
    reference: ReferencePartials | None = None,
) -> Track:
    """Track a whole recording, shape ``(samples,)``; arguments as for `Tracker`."""
    tracker = Tracker(
        sample_rate_hz, lowest_hz=lowest_hz, highest_hz=highest_hz, reference=reference
    )
    events = [*tracker.feed(samples), *tracker.finish()]
    return Track(
        tuple(e for e in events if isinstance(e, PitchFrame)),
        tuple(e for e in events if isinstance(e, HeldNote)),
    )
