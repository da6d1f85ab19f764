"""What the take screen shows, as a value: events go in, the next state comes out."""

from dataclasses import dataclass, replace

from intonation.engine.messages import EngineEvent, ReferenceChanged
from intonation.practice.events import (
    NoteIgnored,
    NoteScored,
    Phase,
    PhaseChanged,
    PitchRevealed,
)


@dataclass(frozen=True, slots=True)
class TakeState:
    """One take as far as it has gone.

    Parameters
    ----------
    phase
        What the player does. A note that begins does not change it: the screen keeps still.
    notes
        Every scored note, the oldest first.
    ignored
        A sound after the last scored note that could not be scored.
    revealed
        Whether the player asked to see the pitch.
    reading
        The latest pitch, only while it is revealed.
    keys
        Notes that a keyboard sounds in place of the drone; empty when its keys are up, None while
        it has not been touched.
    """

    phase: Phase = "resting"
    notes: tuple[NoteScored, ...] = ()
    ignored: NoteIgnored | None = None
    revealed: bool = False
    reading: PitchRevealed | None = None
    keys: tuple[int, ...] | None = None

    @property
    def begun(self) -> bool:
        """Whether the drone sounds."""
        return self.phase != "resting"

    @property
    def latest(self) -> NoteScored | None:
        """The note that ended last."""
        return self.notes[-1] if self.notes else None

    def after(self, event: EngineEvent) -> "TakeState":
        """Return the state after an event; itself when the event shows nothing."""
        match event:
            case PhaseChanged() if event.phase != "note sounds":
                return replace(self, phase=event.phase)
            case NoteScored():
                return replace(self, notes=(*self.notes, event), ignored=None)
            case NoteIgnored():
                return replace(self, ignored=event)
            case ReferenceChanged(drone):
                return replace(self, keys=tuple(tone.midi for tone in drone.tones) if drone else ())
            case PitchRevealed() if self.revealed:
                return replace(self, reading=event)
        return self

    def with_pitch(self, *, revealed: bool) -> "TakeState":
        """Return the state with the pitch revealed or hidden."""
        return replace(self, revealed=revealed, reading=None)
