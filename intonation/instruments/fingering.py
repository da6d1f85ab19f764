"""A fingering: which of a recorder's holes are closed, in the one notation of this package."""

import re
from dataclasses import dataclass
from functools import cache
from typing import Literal

HOLES = ("0", "1", "2", "3", "4", "5", "6", "7")
"""The holes from the thumb (0) down the front of the instrument to the little finger (7)."""

PINCHED_OPEN_FRACTION = 0.12
"""How far a pinched thumb hole is open (design judgement; the acoustic model is fitted with it)."""

_NOTATION = re.compile(
    r"(?P<thumb>[0/-]) (?P<left>[1-][2-][3-]) "
    r"(?P<right>[4-][5-])(?P<ring>6a|6|-)(?P<little>7a|7|-)(?P<bell> bell)?"
)

FingeringKind = Literal["plain", "fork", "half", "thumb"]


@cache
def _marks_of(text: str) -> tuple[str, ...]:
    """Return how each hole from 0 to 7 is held."""
    match = _NOTATION.fullmatch(text)
    if match is None:
        raise ValueError(f'"{text}" is not a fingering such as "0 123 4-67".')
    return (match["thumb"], *match["left"], *match["right"], match["ring"], match["little"])


@dataclass(frozen=True, slots=True)
class Fingering:
    """Closed holes, written for example ``"0 123 4-67"``.

    Parameters
    ----------
    text
        Thumb, a space, three left-hand fingers, a space, four right-hand fingers. A digit is a
        closed hole, ``-`` an open one, ``/`` the pinched thumb; ``6a`` and ``7a`` close one of
        the two small holes of that finger (the one that is covered when half-holing). A closing
        ``bell`` says that the foot is stopped against the knee.

    Raises
    ------
    ValueError
        If the text is not in this notation.
    """

    text: str

    def __post_init__(self) -> None:
        _marks_of(self.text)

    def mark(self, hole: str) -> str:
        """Return how a hole is held: its digit, ``-``, ``/``, ``6a`` or ``7a``."""
        return _marks_of(self.text)[HOLES.index(hole)]

    @property
    def pinched(self) -> bool:
        """Whether the thumb leaves a slit, as in the second register."""
        return self.mark("0") == "/"

    @property
    def bell(self) -> bool:
        """Whether the foot is stopped."""
        return self.text.endswith("bell")

    @property
    def open_fingers(self) -> tuple[str, ...]:
        """Finger holes that are wholly open, from the top: the ones that can be shaded."""
        return tuple(hole for hole in HOLES[1:] if self.mark(hole) == "-")

    @property
    def kind(self) -> FingeringKind:
        """What makes the note delicate: the thumb slit, a half hole, a fork, or nothing."""
        if self.pinched:
            return "thumb"
        marks = _marks_of(self.text)
        if "6a" in marks or "7a" in marks:
            return "half"
        is_open = [mark == "-" for mark in marks]
        lowest_closed = max((i for i, opened in enumerate(is_open) if not opened), default=0)
        return "fork" if any(is_open[:lowest_closed]) else "plain"

    def open_fractions(self) -> dict[str, float]:
        """Return how far each drilled hole is open, 0 to 1.

        The pairs are 6a, 6b, 7a, 7b; a single hole in place of a pair is 6 or 7, and half of it
        is covered where one of the pair would be.
        """
        thumb = {"0": 0.0, "/": PINCHED_OPEN_FRACTION, "-": 1.0}[self.mark("0")]
        fractions = {"0": thumb}
        for hole in HOLES[1:6]:
            fractions[hole] = float(self.mark(hole) == "-")
        for hole in HOLES[6:]:
            mark = self.mark(hole)
            fractions[f"{hole}a"] = float(mark == "-")
            fractions[f"{hole}b"] = float(mark != hole)
            fractions[hole] = (fractions[f"{hole}a"] + fractions[f"{hole}b"]) / 2.0
        return fractions

    def __str__(self) -> str:
        return self.text
