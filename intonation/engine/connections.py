"""How sound reaches the engine and leaves it: one interface, and a stand-in for the sound card."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from intonation.audio.sources import Samples, SampleSource
from intonation.diagnosis.check import AskedTone
from intonation.engine.messages import SoundFault, SoundReady
from intonation.engine.reference import Reference, reference_for
from intonation.exercise.score import Score
from intonation.practice.settings import PracticeSettings
from intonation.synth.sounds import BUILT_IN, Sounds


@dataclass(frozen=True, slots=True)
class ConnectionCount:
    """What was counted since the connection was opened; see `SoundCounters`."""

    input_blocks: int = 0
    output_blocks: int = 0
    overflows: int = 0
    underflows: int = 0
    dropped_samples: int = 0


class Connection(Protocol):
    """A way for the player's sound to come in, and for the reference to go out."""

    @property
    def synth(self) -> Reference:
        """The reference that goes out here."""
        ...

    @property
    def sample_rate_hz(self) -> float:
        """Rate of the samples that come in."""
        ...

    @property
    def exhausted(self) -> bool:
        """Whether nothing more will come in during this take."""
        ...

    @property
    def count(self) -> ConnectionCount:
        """What was counted so far."""
        ...

    def open(self) -> SoundReady:
        """Begin to listen and to sound."""
        ...

    def begin_take(self, settings: PracticeSettings, melody: Score | None = None, /) -> None:
        """Throw away what has come in before this take; a melody is known to a simulated player."""
        ...

    def begin_check(self, settings: PracticeSettings, /) -> None:
        """Throw away what has come in before this check."""
        ...

    def ask(self, asked: AskedTone | None, /) -> None:
        """Let a simulated player know what the check asks for."""
        ...

    def read(self, frames: int) -> Samples:
        """Return at most ``frames`` samples that have come in."""
        ...

    def fault(self) -> SoundFault | None:
        """Return what is wrong at this moment, if anything."""
        ...

    def close(self) -> None:
        """Fade the reference out and end."""
        ...


MakeSource = Callable[[PracticeSettings, Reference], SampleSource]


class AskedPlayer(SampleSource, Protocol):
    """A simulated player who plays what a check asks for."""

    def ask(self, asked: AskedTone | None) -> None:
        """Play this next; None: rest."""


MakeMelodySource = Callable[[PracticeSettings, Score], SampleSource]


MakeCheckPlayer = Callable[[PracticeSettings], AskedPlayer]


class StandIn:
    """A source that stands in for the microphone; the reference is rendered but not played.

    Parameters
    ----------
    name
        What stands in.
    sample_rate_hz
        Rate of its samples.
    make_source
        Makes the source that plays during one take.
    make_melody_source
        Makes the source that plays a melody; None if it is the same.
    make_check_player
        Makes the player of a check, who keeps no time; None if the source cannot be asked for
        anything.
    leak_db
        Level at which the reference reaches the source's microphone, relative to its output; None
        if it does not.
    between_takes
        Makes what is heard while nothing is practised; None if time stands still then.
    sounds
        What sounds the reference.
    """

    def __init__(
        self,
        name: str,
        *,
        sample_rate_hz: float,
        make_source: MakeSource,
        make_melody_source: MakeMelodySource | None = None,
        make_check_player: MakeCheckPlayer | None = None,
        leak_db: float | None = None,
        between_takes: Callable[[], SampleSource] | None = None,
        sounds: Sounds = BUILT_IN,
    ) -> None:
        self.synth, self._complaint = reference_for(sounds, sample_rate_hz=sample_rate_hz)
        self.sample_rate_hz = sample_rate_hz
        self._name = name
        self._make_source = make_source
        self._make_melody_source = make_melody_source
        self._make_check_player = make_check_player
        self._check_player: AskedPlayer | None = None
        self._leak = 0.0 if leak_db is None else 10.0 ** (leak_db / 20.0)
        self._between_takes = between_takes
        self._quiet: SampleSource | None = None
        self._source: SampleSource | None = None
        self._blocks = 0

    @property
    def exhausted(self) -> bool:
        """Whether the source has come to its end."""
        return self._source is not None and self._source.exhausted

    @property
    def count(self) -> ConnectionCount:
        """Blocks so far; nothing is ever lost."""
        return ConnectionCount(input_blocks=self._blocks, output_blocks=self._blocks)

    def open(self) -> SoundReady:
        """Be ready at once."""
        return SoundReady(self._name, "none", self.sample_rate_hz, 0.0)

    def begin_take(self, settings: PracticeSettings, melody: Score | None = None, /) -> None:
        """Begin the source anew."""
        if melody is not None and self._make_melody_source is not None:
            self._source = self._make_melody_source(settings, melody)
        else:
            self._source = self._make_source(settings, self.synth)

    def begin_check(self, settings: PracticeSettings, /) -> None:
        """Begin the source anew, or let the player of a check come in."""
        self._check_player = None
        if self._make_check_player is None:
            self._source = self._make_source(settings, self.synth)
            return
        self._check_player = self._source = self._make_check_player(settings)

    def ask(self, asked: AskedTone | None, /) -> None:
        """Let the player of a check know what is asked for."""
        if self._check_player is not None:
            self._check_player.ask(asked)

    def read(self, frames: int) -> Samples:
        """Return the source's next samples with the reference that leaks into them."""
        source = self._source_now()
        if source is None:
            return self.synth.render(0)
        block = source.read(frames)
        reference = self.synth.render(block.size)
        self._blocks += 1
        return block + self._leak * reference if self._leak else block

    def _source_now(self) -> SampleSource | None:
        if self._source is not None and not self._source.exhausted:
            self._quiet = None
            return self._source
        # made anew after each take, so that its clock begins then
        if self._quiet is None and self._between_takes is not None:
            self._quiet = self._between_takes()
        return self._quiet

    def fault(self) -> SoundFault | None:
        """Return why other sounds than the chosen ones are used, once; all else goes well."""
        complaint, self._complaint = self._complaint, None
        return complaint

    def close(self) -> None:
        """Let source and synthesiser go."""
        self._source = None
        self.synth.close()
