"""The simulated players of the demonstration, introduced in a sentence each."""

_PLAYERS = {
    "exact": "A simulated player who plays exactly what the instrument gives.",
    "wren": "Wren, a simulated player: shy of breath low down, generous with it high up.",
    "heron": "Heron, a simulated player: plays softly, and long notes sink at the end.",
    "magpie": "Magpie, a simulated player: opens the thumb too far and wavers a little.",
    "thrush": "Thrush, a simulated player: listens well and plays with a warm vibrato.",
}


def player_in_words(name: str) -> str:
    """Return who a named simulated player is."""
    return _PLAYERS.get(name, f"{name}, a simulated player.")
