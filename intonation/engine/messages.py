"""What passes between the interface and the sound engine, in both directions."""

from dataclasses import dataclass
from pathlib import Path

from intonation.practice.events import PracticeEvent
from intonation.practice.settings import PracticeSettings


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundSettings:
    """Where the sound comes from and goes to.

    Parameters
    ----------
    microphone, output
        Names of sound devices; None takes the system's default.
    headphones
        Whether the player hears the reference in headphones, so that it cannot leak.
    recording
        A sound file that stands in for the microphone.
    simulated
        Whether a simulated player stands in for the microphone.
    seed
        Seed of the simulated player.
    """

    microphone: str | None = None
    output: str | None = None
    headphones: bool = False
    recording: Path | None = None
    simulated: bool = False
    seed: int = 0


@dataclass(frozen=True, slots=True)
class StartTake:
    """Sound the drone and listen to the player."""

    settings: PracticeSettings


@dataclass(frozen=True, slots=True)
class EndTake:
    """Fade the drone out and sum up."""


@dataclass(frozen=True, slots=True)
class SoundDrone:
    """Sound the drone outside a take, to choose it by ear; nothing is scored."""

    settings: PracticeSettings


@dataclass(frozen=True, slots=True)
class QuietDrone:
    """Let a drone outside a take fade."""


@dataclass(frozen=True, slots=True)
class SetLoudness:
    """Change how loud the reference sounds, in dB relative to the loudest."""

    loudness_db: float


@dataclass(frozen=True, slots=True)
class RevealPitch:
    """Show the pitch while a note sounds, or hide it again (the default)."""

    shown: bool


@dataclass(frozen=True, slots=True)
class CloseSound:
    """Fade out and end the engine."""


EngineCommand = (
    StartTake | EndTake | SoundDrone | QuietDrone | SetLoudness | RevealPitch | CloseSound
)


@dataclass(frozen=True, slots=True)
class SoundReady:
    """The streams run."""

    microphone: str
    output: str
    sample_rate_hz: float
    latency_s: float


@dataclass(frozen=True, slots=True)
class SoundFault:
    """The sound has stopped or cannot be trusted; the practice goes on where it can."""

    sentence: str
    what_to_do: str
    fatal: bool


@dataclass(frozen=True, slots=True)
class SoundCounters:
    """What the callbacks counted since the streams started."""

    input_blocks: int
    output_blocks: int
    overflows: int
    underflows: int
    dropped_samples: int
    level_db: float
    reference_suppression_db: float | None


@dataclass(frozen=True, slots=True)
class EngineClosed:
    """The engine has ended; nothing more will come."""


EngineEvent = PracticeEvent | SoundReady | SoundFault | SoundCounters | EngineClosed
