"""What the player does in each phase of a session, in words."""

from intonation.language import say
from intonation.practice.events import Phase

_PHASES: dict[Phase, str] = {
    "resting": say("Resting."),
    "listen first": say("Listen first: the drone alone."),
    "your turn": say("Your turn: hold a note against the drone."),
    "note sounds": say("Listen."),
}


def phase_in_words(phase: Phase) -> str:
    """Return what happens in a phase."""
    return _PHASES[phase]
