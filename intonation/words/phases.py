"""What the player does in each phase of a session, in words."""

from intonation.practice.events import Phase

_PHASES: dict[Phase, str] = {
    "resting": "Resting.",
    "listen first": "Listen first: the drone alone.",
    "your turn": "Your turn: hold a note against the drone.",
    "note sounds": "Listen.",
}


def phase_in_words(phase: Phase) -> str:
    """Return what happens in a phase."""
    return _PHASES[phase]
