"""What is known of the sound at this moment, as a value: events go in, the next state comes out."""

from dataclasses import dataclass, replace

from intonation.engine.messages import (
    EngineClosed,
    EngineEvent,
    SoundCounters,
    SoundFault,
    SoundReady,
    ToneHeard,
)
from intonation.practice.events import PhaseChanged


@dataclass(frozen=True, slots=True)
class SoundState:
    """The state of the sound engine.

    Parameters
    ----------
    ready
        What it opened; None until it runs, and after it has ended.
    counters
        What its callbacks counted last.
    fault
        What is wrong with it; None when nothing is.
    """

    ready: SoundReady | None = None
    counters: SoundCounters | None = None
    fault: SoundFault | None = None

    @property
    def trouble(self) -> str | None:
        """The fault as a sentence with what to do."""
        return None if self.fault is None else f"{self.fault.sentence} {self.fault.what_to_do}"

    def after(self, event: EngineEvent) -> "SoundState":
        """Return the state after an event; itself when the event is not about the sound."""
        match event:
            case SoundReady():
                return replace(self, ready=event, fault=None)
            case SoundCounters():
                return replace(self, counters=event)
            case SoundFault():
                return replace(self, fault=event, ready=None if event.fatal else self.ready)
            case EngineClosed():
                return replace(self, ready=None, counters=None)
            case PhaseChanged(phase="listen first" | "resting") | ToneHeard() if self.fault:
                return replace(self, fault=self.fault if self.fault.fatal else None)
        return self
