"""What the melody page shows, as a value: events go in, the next state comes out."""

from dataclasses import dataclass, replace

from intonation.engine.messages import EngineEvent, NoteDue, PhraseScored


@dataclass(frozen=True, slots=True)
class MelodyState:
    """One exercise as far as it has gone.

    Parameters
    ----------
    due
        The note that it is time for; None during the count-in.
    scored
        The phrase that was played last, with its score.
    """

    due: NoteDue | None = None
    scored: PhraseScored | None = None

    def after(self, event: EngineEvent) -> "MelodyState":
        """Return the state after an event; itself when the event shows nothing."""
        match event:
            case NoteDue():
                return replace(self, due=event)
            case PhraseScored():
                return replace(self, scored=event)
        return self
