"""Samples in, pitch frames and held notes out: no device, no clock, the same for any block size."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.coarse import CoarseAnalysis, CoarseFrame
from intonation.tracking.decimation import HOPS_PER_STEP, Decimator
from intonation.tracking.events import HeldNote, NoteStarted, PitchFrame, TrackerEvent
from intonation.tracking.recent_sound import RecentSound
from intonation.tracking.reference import ReferencePartials
from intonation.tracking.room_listening import ClearedStep, ReferenceInRoom
from intonation.tracking.segmentation import Begun, Ended, Segmentation
from intonation.tracking.sounding_note import HopClock, SoundingNote

LOWEST_HZ, HIGHEST_HZ = 80.0, 4300.0
_KEPT_HOPS = 16
_AT_ONCE = 16


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
    `feed` returns events: frames in order of time once they are final (within a note up to 1.5 s
    late), notes as soon as they begin (within 0.2 s) and end (within 0.25 s). For something to look
    at meanwhile, `reading` is at most 60 ms old.

    With a reference the first 1.4 s are listened to before anything is said. While it is not
    learned yet, no notes are reported.
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
        self._clock = HopClock(self._decimator.rate_hz, self._decimator.hop_samples)
        self._coarse = CoarseAnalysis(
            self._clock.rate_hz, self._clock.hop_samples, lowest_hz=lowest_hz, highest_hz=highest_hz
        )
        self._segmentation = Segmentation()
        self._sound = RecentSound()
        self._waiting: list[CoarseFrame] = []
        self._note: SoundingNote | None = None
        self._last_of_note = 0
        self._next_is_joined = False
        self._reading: PitchFrame | None = None
        self._steps_fed = 0
        self._left_over: list[ClearedStep] = []
        self._trusted_from = 0
        self._room = self._room_with(reference)

    @property
    def reading(self) -> PitchFrame | None:
        """The pitch now, less exact than a final frame and at most 60 ms old; None at the start."""
        return self._reading

    @property
    def suppression_db(self) -> float | None:
        """How far the reference was brought down; None while none is learned or can be heard."""
        return None if self._room is None else self._room.suppression_db

    @property
    def clock_ppm(self) -> float | None:
        """How much faster the reference runs than its nominal frequencies; None until learned."""
        return None if self._room is None else self._room.clock_ppm

    @property
    def reference_implausible(self) -> bool:
        """Whether what was learned about the reference cannot be right."""
        return self._room is not None and self._room.implausible

    def reference_changed(self, reference: ReferencePartials | None) -> None:
        """From what is fed next on, another reference sounds, or none."""
        if self._room is not None:
            self._left_over.extend(self._room.finish())
        self._room = self._room_with(reference)

    def feed(self, samples: NDArray[np.floating]) -> list[TrackerEvent]:
        """Take mono samples, shape ``(any,)``, and return what they settle."""
        events: list[TrackerEvent] = []
        for steps in self._together(self._decimator.feed(samples)):
            events.extend(self._heard([one for step in steps for one in self._cleared(step)]))
        return events

    def finish(self) -> list[TrackerEvent]:
        """End the recording: return everything that was still open."""
        events: list[TrackerEvent] = []
        for steps in self._together(self._decimator.finish()):
            events.extend(self._heard([one for step in steps for one in self._cleared(step)]))
        if self._room is not None:
            events.extend(self._heard(self._room.finish()))
        for change in self._segmentation.finish():
            events.extend(self._changed(change))
        return [*events, *self._silent_frames(before=None)]

    def _together(self, steps: list[NDArray[np.float64]]) -> list[list[NDArray[np.float64]]]:
        """Return steps in groups: with a room, what is heard in one decides about the next."""
        size = _AT_ONCE if self._room is None else 1
        return [steps[first : first + size] for first in range(0, len(steps), size)]

    def _room_with(self, reference: ReferencePartials | None) -> ReferenceInRoom | None:
        if reference is None:
            return None
        return ReferenceInRoom(
            reference,
            rate_hz=self._clock.rate_hz,
            step_samples=self._decimator.step_samples,
            first_step=self._steps_fed,
        )

    def _cleared(self, step: NDArray[np.float64]) -> list[ClearedStep]:
        self._steps_fed += 1
        earlier, self._left_over = self._left_over, []
        now = [ClearedStep(step, True)] if self._room is None else self._room.feed(step)
        return [*earlier, *now]

    def _heard(self, steps: Sequence[ClearedStep]) -> list[TrackerEvent]:
        events: list[TrackerEvent] = []
        if not steps:
            return events
        frames = iter(self._coarse.feed(np.concatenate([step.samples for step in steps])))
        for step in steps:
            self._sound.append(step.samples)
            for frame in islice(frames, HOPS_PER_STEP):
                if not step.trusted:
                    self._trusted_from = frame.index + _KEPT_HOPS
                if frame.index >= 0:
                    events.extend(self._framed(frame))
        return events

    def _framed(self, frame: CoarseFrame) -> list[TrackerEvent]:
        events: list[TrackerEvent] = []
        self._waiting.append(frame)
        if frame.index >= self._trusted_from:
            for change in self._segmentation.feed(self._masked(frame)):
                events.extend(self._changed(change))
        if self._note is not None:
            events.extend(self._heard_in_note(self._note))
        else:
            unsettled = self._segmentation.unsettled_from
            before = frame.index + 1 if unsettled is None else unsettled
            events.extend(self._silent_frames(before=before))
        self._reading = self._read(frame)
        return events

    def _masked(self, frame: CoarseFrame) -> CoarseFrame:
        if self._room is None:
            return frame
        return replace(frame, masked=frame.harmonic_db < self._room.floor_db(frame.advance_hz))

    def _heard_in_note(self, note: SoundingNote) -> list[TrackerEvent]:
        """Give the note the frames that belong to it for certain: an end is seen some hops late."""
        settled = self._waiting[-1].index - _KEPT_HOPS if self._waiting else 0
        events: list[TrackerEvent] = []
        while self._waiting and self._waiting[0].index < settled:
            events.extend(note.feed(self._waiting.pop(0)))
        self._sound.forget_before(note.needs_sound_from)
        return events

    def _changed(self, change: Begun | Ended) -> list[TrackerEvent]:
        if isinstance(change, Ended):
            return self._ended(change)
        silent = self._silent_frames(before=change.first)
        if self._room is not None:
            self._room.heard_note(change.first // HOPS_PER_STEP)
        self._note = SoundingNote(
            change.first,
            not_before=self._last_of_note,
            joined=self._next_is_joined and change.first == self._last_of_note,
            sound=self._sound,
            clock=self._clock,
        )
        return [*silent, NoteStarted(self._clock.time_s(change.first), change.f0_hz)]

    def _ended(self, change: Ended) -> list[TrackerEvent]:
        note, self._note = self._note, None
        last = change.last
        if note is None:
            return []
        events: list[TrackerEvent] = []
        while self._waiting and self._waiting[0].index <= last:
            events.extend(note.feed(self._waiting.pop(0)))
        frames, held = note.end(last, joined=change.joined)
        self._last_of_note, self._next_is_joined = last + 1, change.joined
        if self._room is not None:
            self._room.heard_note(last // HOPS_PER_STEP)
        return [*events, *frames, held]

    def _silent_frames(self, *, before: int | None) -> list[TrackerEvent]:
        events: list[TrackerEvent] = []
        while self._waiting and (before is None or self._waiting[0].index < before):
            frame = self._waiting.pop(0)
            if self._room is not None and frame.index % HOPS_PER_STEP == 0:
                self._room.heard_silence(frame.index // HOPS_PER_STEP)
            events.append(self._frame(frame, None))
        if self._note is None and events:
            self._sound.forget_before((frame.index - _KEPT_HOPS) * self._clock.hop_samples)
        return events

    def _read(self, frame: CoarseFrame) -> PitchFrame:
        if self._note is None:
            return self._frame(frame, None)
        time_s = self._clock.time_s(frame.index - 0.5)
        return PitchFrame(time_s, frame.advance_hz, frame.harmonic_to_noise_db, frame.level_db)

    def _frame(self, frame: CoarseFrame, f0_hz: float | None) -> PitchFrame:
        time_s = self._clock.time_s(frame.index)
        return PitchFrame(time_s, f0_hz, frame.harmonic_to_noise_db, frame.level_db)


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
