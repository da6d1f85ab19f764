"""What passes between the interface and the sound engine, in both directions."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.practice.events import PracticeEvent
from intonation.practice.settings import PracticeSettings
from intonation.synth.sounds import BUILT_IN, Sounds

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from intonation.acoustics.alterations import Alteration
    from intonation.assessment.melody import MelodyScore
    from intonation.diagnosis.check import AskedTone
    from intonation.exercise.drone import Drone
    from intonation.exercise.score import Score
    from intonation.practice.checking import PlayedTone


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
    two_faults
        Whether the simulated player has an instrument with two faults of making, on which the
        workshop can be learnt.
    work
        What was done to that instrument, and stands.
    keyboard
        Name of a MIDI keyboard whose keys become the reference of a take; None for none.
    step_midi
        A key of it that steps on as its pedal does, instead of sounding; None for none.
    sounds
        What sounds the reference.
    """

    microphone: str | None = None
    output: str | None = None
    headphones: bool = False
    recording: Path | None = None
    simulated: bool = False
    seed: int = 0
    two_faults: bool = False
    work: tuple[Alteration, ...] = ()
    keyboard: str | None = None
    step_midi: int | None = None
    sounds: Sounds = BUILT_IN


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
class StartMelody:
    """Count in, sound the backing of an exercise, and listen to the player's part.

    Parameters
    ----------
    score
        The exercise, ready to sound.
    settings
        Voice, loudness and instrument.
    rounds
        How often it is played in a row.
    """

    score: Score
    settings: PracticeSettings
    rounds: int = 1


@dataclass(frozen=True, slots=True)
class StartCheck:
    """Quiet every reference and listen to an instrument check."""

    settings: PracticeSettings


@dataclass(frozen=True, slots=True)
class AskTone:
    """Take the next tone that begins as an answer to this; None: take no tone as one."""

    asked: AskedTone | None


@dataclass(frozen=True, slots=True, eq=False)
class PlaySound:
    """Sound prepared samples once, at the loudness last asked for.

    Parameters
    ----------
    samples
        Mono, float32, at 48 kHz, full scale 1; they begin and end softly by themselves.
    """

    samples: NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class CloseSound:
    """Fade out and end the engine."""


EngineCommand = (
    StartTake
    | StartMelody
    | StartCheck
    | AskTone
    | EndTake
    | SoundDrone
    | QuietDrone
    | PlaySound
    | SetLoudness
    | RevealPitch
    | CloseSound
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
class ReferenceChanged:
    """The keyboard has changed the reference; None when it fell silent."""

    drone: Drone | None


@dataclass(frozen=True, slots=True)
class StepWanted:
    """The pedal of the keyboard asks for what comes next: to begin, to end, to play again."""


@dataclass(frozen=True, slots=True)
class NoteDue:
    """It is time for a note of the melody.

    Parameters
    ----------
    number
        The note's number in its score.
    round_number
        Which time round, from 0.
    at_s
        When, counted from the start of the sound.
    """

    number: int
    round_number: int
    at_s: float


@dataclass(frozen=True, slots=True)
class PhraseScored:
    """A phrase has been played; its number in the score, the round from 0, and how it went."""

    number: int
    round_number: int
    score: MelodyScore


@dataclass(frozen=True, slots=True)
class MelodyEnded:
    """The melody is over; how each round went, from its first note to its last."""

    rounds: tuple[MelodyScore, ...]


@dataclass(frozen=True, slots=True)
class CheckListening:
    """Whether the engine listens to a check from now on."""

    listening: bool


@dataclass(frozen=True, slots=True)
class ToneHeard:
    """A tone of a check has ended; the number is that of the asking which it answers."""

    number: int
    tone: PlayedTone


@dataclass(frozen=True, slots=True)
class SoundPlayed:
    """The prepared samples have sounded."""


@dataclass(frozen=True, slots=True)
class EngineClosed:
    """The engine has ended; nothing more will come."""


EngineEvent = (
    PracticeEvent
    | ReferenceChanged
    | StepWanted
    | NoteDue
    | PhraseScored
    | MelodyEnded
    | CheckListening
    | ToneHeard
    | SoundPlayed
    | SoundReady
    | SoundFault
    | SoundCounters
    | EngineClosed
)
