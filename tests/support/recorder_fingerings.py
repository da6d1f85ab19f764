"""Baroque fingerings of an alto as open fractions of its holes, for the acoustics tests.

Published charts as quoted in the instrument files; the pinched thumb hole is 12 % open.
"""

PINCHED = 0.12
HOLES = ("0", "1", "2", "3", "4", "5", "6a", "6b", "7a", "7b")

CHART = {
    65: "0 1 2 3 4 5 6a 6b 7a 7b",
    66: "0 1 2 3 4 5 6a 6b 7a",
    67: "0 1 2 3 4 5 6a 6b",
    68: "0 1 2 3 4 5 6a",
    69: "0 1 2 3 4 5",
    70: "0 1 2 3 4 6a 6b 7a 7b",
    71: "0 1 2 3 5 6a 6b",
    72: "0 1 2 3",
    73: "0 1 2 4 5 6a",
    74: "0 1 2",
    75: "0 1 3 4",
    76: "0 1",
    77: "0 2",
    78: "1 2",
    79: "2",
    80: "2 3 4 5 6a 6b",
    81: "/ 1 2 3 4 5",
    82: "/ 1 2 3 4 6a 6b",
    83: "/ 1 2 3 5",
    84: "/ 1 2 3",
    85: "/ 1 2 4",
    86: "/ 1 2",
    87: "/ 1 2 5 6a 6b",
    88: "/ 1 2 4 5",
    89: "/ 1 4 5",
    91: "/ 1 3 4 6a 6b",
}
"""Closed holes of each sounding note (MIDI); ``/`` is the pinched thumb hole."""


def open_fractions(closed: str) -> dict[str, float]:
    """Return how far each hole is open for a list of closed holes."""
    names = closed.split()
    fractions = {hole: 0.0 if hole in names else 1.0 for hole in HOLES}
    if "/" in names:
        fractions["0"] = PINCHED
    return fractions
