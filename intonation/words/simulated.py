"""The simulated players of the demonstration, introduced in a sentence each."""

from intonation.language import say

_PLAYERS = {
    "exact": say("A simulated player who plays exactly what the instrument gives."),
    "wren": say("Wren, a simulated player: shy of breath low down, generous with it high up."),
    "heron": say("Heron, a simulated player: plays softly, and long notes sink at the end."),
    "magpie": say("Magpie, a simulated player: opens the thumb too far and wavers a little."),
    "thrush": say("Thrush, a simulated player: listens well and plays with a warm vibrato."),
}


def player_in_words(name: str) -> str:
    """Return who a named simulated player is."""
    return _PLAYERS.get(name, say("{name}, a simulated player.", name=name))
