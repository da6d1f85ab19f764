"""One take inside the engine: the reference, the tracker that knows it, and the session."""

from collections.abc import Iterable

from intonation.audio.sources import Samples
from intonation.engine.connections import Connection
from intonation.engine.messages import EngineEvent, SoundFault
from intonation.engine.reference import Reference
from intonation.exercise.drone import Drone
from intonation.language import say
from intonation.practice.events import PitchRevealed
from intonation.practice.session import PracticeSession
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of
from intonation.synth.tones import Tone
from intonation.tracking.events import TrackerEvent
from intonation.tracking.reference import ReferencePartials
from intonation.tracking.tracker import Tracker

REVEALS_PER_S = 30.0
_CANNOT_BE_TAKEN_OUT = SoundFault(
    say("This drone cannot be taken out of what the microphone hears and may be scored itself."),
    say("Wear headphones, or choose a steady voice and the built-in sounds or FluidSynth."),
    fatal=False,
)


class Take:
    """From the first sample of a take to its summary.

    Parameters
    ----------
    session
        The session, already started.
    tracker
        The tracker, told what sounds.
    synth
        The reference.
    sample_rate_hz
        Rate of what it will hear.
    headphones
        Whether the reference cannot reach the microphone.
    """

    def __init__(
        self,
        session: PracticeSession,
        tracker: Tracker,
        synth: Reference,
        *,
        sample_rate_hz: float,
        headphones: bool,
    ) -> None:
        self._session = session
        self._tracker = tracker
        self._synth = synth
        self._headphones = headphones
        self._sample_rate_hz = sample_rate_hz
        self._heard_samples = 0
        self._revealed_at_s = 0.0
        self._read_at_s = 0.0
        self._doubted = False

    @classmethod
    def begun(
        cls, settings: PracticeSettings, connection: Connection, *, headphones: bool
    ) -> tuple["Take", list[EngineEvent]]:
        """Sound the drone, begin to listen, and return the take and what the session says.

        Raises
        ------
        SettingsError
            If an instrument, temperament or voice is unknown.
        """
        instrument = settings.recorder
        session = PracticeSession(settings, instrument, headphones=headphones)
        synth = connection.synth
        synth.set_loudness(settings.loudness_db)
        synth.set_tones(drone_tones(settings))
        connection.begin_take(settings)
        reference = None if headphones else steady_partials(synth)
        tracker = Tracker(connection.sample_rate_hz, reference=reference)
        take = cls(
            session,
            tracker,
            synth,
            sample_rate_hz=connection.sample_rate_hz,
            headphones=headphones,
        )
        started: list[EngineEvent] = list(session.start(0.0))
        if reference is None and not headphones:
            started.append(_CANNOT_BE_TAKEN_OUT)
        return take, started

    @property
    def suppression_db(self) -> float | None:
        """By how much the reference is suppressed in what is heard, once that is known."""
        return self._tracker.suppression_db

    def reveal(self, shown: bool) -> None:
        """Show the pitch while a note sounds, or hide it."""
        self._session.reveal(shown)

    @property
    def settings(self) -> PracticeSettings:
        """What the player chose."""
        return self._session.settings

    def refer_to(self, drone: Drone | None) -> None:
        """Sound another reference; None for silence."""
        tones = () if drone is None else tones_of_drone(drone, voice=self.settings.voice)
        self._synth.set_tones(tones)
        if not self._headphones:
            self._tracker.reference_changed(steady_partials(self._synth))
        if drone is not None:
            self._session.refer_to(drone)

    def hear(self, samples: Samples) -> list[EngineEvent]:
        """Take in samples."""
        self._heard_samples += samples.size
        return [*self._settled(self._tracker.feed(samples)), *self._seen(), *self._doubts()]

    def ended(self) -> list[EngineEvent]:
        """Finish the note that still sounds and sum up."""
        events = self._settled(self._tracker.finish())
        return [*events, *self._session.end(self._heard_samples / self._sample_rate_hz)]

    def _settled(self, heard: Iterable[TrackerEvent]) -> list[EngineEvent]:
        """Return what the session says to settled events, but for pitches: too old to be shown."""
        said = (event for one in heard for event in self._session.hear(one))
        return [event for event in said if not isinstance(event, PitchRevealed)]

    def _seen(self) -> list[EngineEvent]:
        """Return what the session says to the pitch of this moment."""
        reading = self._tracker.reading
        if reading is None or reading.time_s <= self._read_at_s:
            return []
        self._read_at_s = reading.time_s
        said = self._session.hear(reading)
        return [e for e in said if not (isinstance(e, PitchRevealed) and self._too_soon(e))]

    def _doubts(self) -> list[EngineEvent]:
        """Say, once a take, that what was learned about the reference cannot be right."""
        if self._doubted or not self._tracker.reference_implausible:
            return []
        self._doubted = True
        return [
            SoundFault(
                say(
                    "The reference could not be learned from the sound in this room; "
                    "notes close to it may be misjudged."
                ),
                say("Keep still for the first two seconds of a take, or use headphones."),
                fatal=False,
            )
        ]

    def _too_soon(self, event: PitchRevealed) -> bool:
        if event.at_s - self._revealed_at_s < 1.0 / REVEALS_PER_S:
            return True
        self._revealed_at_s = event.at_s
        return False


def drone_tones(settings: PracticeSettings) -> tuple[Tone, ...]:
    """Return the drone that a player's settings ask for as tones of the synthesiser."""
    return tones_of_drone(drone_of(settings), voice=settings.voice)


def tones_of_drone(drone: Drone, *, voice: str) -> tuple[Tone, ...]:
    """Return a drone as tones of the synthesiser."""
    return tuple(Tone(tone.hz, tone.level_db, voice) for tone in drone.tones)


def steady_partials(synth: Reference) -> ReferencePartials | None:
    """Return what the tracker has to know of the reference; None where it cannot be followed."""
    partials = synth.partials()
    if not partials or not all(partial.steady for partial in partials):
        return None
    return ReferencePartials(
        tuple(partial.hz for partial in partials), tuple(partial.level_db for partial in partials)
    )
