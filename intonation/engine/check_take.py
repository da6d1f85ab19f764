"""An instrument check inside the engine: no reference sounds, and every answer is passed on."""

from collections.abc import Iterable

from intonation.audio.sources import Samples
from intonation.diagnosis.check import AskedTone
from intonation.engine.connections import Connection
from intonation.engine.messages import CheckListening, EngineEvent, ToneHeard
from intonation.practice.checking import PlayedTone
from intonation.practice.settings import PracticeSettings
from intonation.practice.swell_steps import swell_steps
from intonation.tracking.events import HeldNote, NoteStarted, PitchFrame, TrackerEvent
from intonation.tracking.tracker import Tracker


class CheckTake:
    """From the moment a check is listened to until it is left.

    Parameters
    ----------
    sample_rate_hz
        Rate of what will be heard.
    """

    def __init__(self, sample_rate_hz: float) -> None:
        self._sample_rate_hz = sample_rate_hz
        self._tracker = Tracker(sample_rate_hz)
        self._heard_samples = 0
        self._asked: AskedTone | None = None
        self._asked_at_s = 0.0
        self._frames: list[PitchFrame] = []

    @classmethod
    def begun(
        cls, settings: PracticeSettings, connection: Connection
    ) -> tuple["CheckTake", list[EngineEvent]]:
        """Quiet whatever sounds, begin to listen, and return the take and what to say."""
        connection.synth.set_tones(())
        connection.begin_check(settings)
        return cls(connection.sample_rate_hz), [CheckListening(True)]

    @property
    def suppression_db(self) -> float | None:
        """Always None: there is no reference."""
        return None

    def reveal(self, _shown: bool) -> None:
        """Do nothing: a check is played blind."""

    def ask(self, asked: AskedTone | None) -> None:
        """Listen for a tone; what has begun to sound before does not count. None: rest."""
        self._asked = asked
        self._asked_at_s = self._heard_samples / self._sample_rate_hz

    def hear(self, samples: Samples) -> list[EngineEvent]:
        """Take in samples."""
        self._heard_samples += samples.size
        return self._answers(self._tracker.feed(samples))

    def ended(self) -> list[EngineEvent]:
        """Leave off; a tone that still sounds does not count."""
        return [CheckListening(False)]

    def _answers(self, heard: Iterable[TrackerEvent]) -> list[EngineEvent]:
        answers: list[EngineEvent] = []
        for event in heard:
            match event:
                case NoteStarted():
                    self._frames.clear()
                case PitchFrame() if event.f0_hz:
                    self._frames.append(event)
                case HeldNote() if self._asked and event.onset_s >= self._asked_at_s:
                    answers.append(ToneHeard(self._asked.number, self._played(event)))
        return answers

    def _played(self, held: HeldNote) -> PlayedTone:
        swelled = self._asked is not None and self._asked.manner == "swelled"
        return PlayedTone(held, swell_steps(self._frames, held) if swelled else ())
