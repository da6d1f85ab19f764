"""A simulated player: a sound source like a microphone, whose truth is known afterwards."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.pitch.intervals import interval_above
from intonation.pitch.notes import equal_tempered_hz
from intonation.simulation.habits import Habits
from intonation.simulation.note_sound import RELEASE_S, SUSTAIN_FROM_S, course_of, sound_of
from intonation.simulation.plan import PlannedNote
from intonation.simulation.recorder import SimulatedRecorder

Samples = NDArray[np.float32]

_ROOM_NOISE_DBFS = -78.0


@dataclass(frozen=True, slots=True)
class PlayedNote:
    """The truth about a note that a simulated player has played.

    Parameters
    ----------
    midi
        Which note was meant.
    onset_s, offset_s
        Begin and end, counted from the source's first sample.
    f0_hz
        Median of its exact fundamental frequency from 150 ms after the onset to its release.
    """

    midi: int
    onset_s: float
    offset_s: float
    f0_hz: float


class SimulatedPlayer:
    """Plays a plan on an invented recorder, with habits, perhaps against a reference it hears.

    Parameters
    ----------
    recorder, habits
        On what, and how.
    plan
        What is played, in order.
    rng
        The only source of chance.
    a4_hz
        Concert pitch for which the recorder was made.
    reference_hz
        Frequencies of the reference that the player hears, its own note first; none in silence.
    lead_in_s
        Silence before the first note.
    sample_rate_hz
        Samples per second.

    Notes
    -----
    Each note is rendered as a whole, so the samples do not depend on how they are cut into blocks.
    """

    def __init__(
        self,
        recorder: SimulatedRecorder,
        habits: Habits,
        plan: Sequence[PlannedNote],
        *,
        rng: np.random.Generator,
        a4_hz: float = 440.0,
        reference_hz: Sequence[float] = (),
        lead_in_s: float = 2.5,
        sample_rate_hz: float = 48000.0,
    ) -> None:
        self.recorder = recorder
        self.habits = habits
        self._to_play = list(plan)
        self._rng = rng
        self._a4_hz = a4_hz
        self._reference_hz = tuple(reference_hz)
        self._sample_rate_hz = sample_rate_hz
        self._played: list[PlayedNote] = []
        self._waiting = self._silence(lead_in_s)
        self._rendered_samples = len(self._waiting)

    @property
    def sample_rate_hz(self) -> float:
        """Samples per second."""
        return self._sample_rate_hz

    @property
    def exhausted(self) -> bool:
        """Whether everything has been played and read."""
        return not self._to_play and not self._waiting.size

    @property
    def played(self) -> tuple[PlayedNote, ...]:
        """The truth about every note rendered so far."""
        return tuple(self._played)

    def read(self, frames: int) -> Samples:
        """Return the next samples, mono, full scale 1; fewer than asked only at the end."""
        pieces, missing = [], frames
        while missing > 0 and not self.exhausted:
            if not self._waiting.size:
                self._render_next()
            pieces.append(self._waiting[:missing])
            self._waiting = self._waiting[missing:]
            missing -= pieces[-1].size
        return np.concatenate(pieces) if pieces else np.zeros(0, np.float32)

    def _render_next(self) -> None:
        note = self._to_play.pop(0)
        onset_s = self._rendered_samples / self._sample_rate_hz
        time_s = np.arange(round(note.sounding_s * self._sample_rate_hz)) / self._sample_rate_hz
        course = course_of(
            note,
            recorder=self.recorder,
            habits=self.habits,
            a4_hz=self._a4_hz,
            aim_hz=self._aim_hz(note.midi),
            time_s=time_s,
            rng=self._rng,
        )
        sound = sound_of(
            course,
            second_register=self.recorder.instrument.in_second_register(note.midi),
            breath_noise_db=self.habits.breath_noise_db,
            sample_rate_hz=self._sample_rate_hz,
            rng=self._rng,
        )
        in_room = (sound + self._room(len(sound))).astype(np.float32)
        self._waiting = np.concatenate([in_room, self._silence(note.rest_s)])
        self._rendered_samples += len(self._waiting)
        steady = (time_s >= SUSTAIN_FROM_S) & (time_s <= note.sounding_s - RELEASE_S)
        f0_hz = float(np.median(course.f0_hz[steady] if steady.any() else course.f0_hz))
        self._played.append(PlayedNote(note.midi, onset_s, onset_s + note.sounding_s, f0_hz))

    def _aim_hz(self, midi: int) -> float | None:
        """Return the pure interval over the reference's own note that a good ear goes for."""
        if not self._reference_hz:
            return None
        bass_hz = self._reference_hz[0]
        distance = np.log2(equal_tempered_hz(midi, a4_hz=self._a4_hz) / bass_hz)
        octaves, semitones = divmod(round(12.0 * float(distance)), 12)
        return float(bass_hz * float(interval_above(semitones).ratio) * 2.0**octaves)

    def _silence(self, seconds: float) -> Samples:
        return self._room(round(seconds * self._sample_rate_hz)).astype(np.float32)

    def _room(self, samples: int) -> NDArray[np.float64]:
        noise = self._rng.standard_normal(samples)
        return np.asarray(10.0 ** (_ROOM_NOISE_DBFS / 20.0) * noise)
