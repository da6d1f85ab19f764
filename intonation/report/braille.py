"""A fine drawing in text: two by four dots in every character, in Unicode's Braille patterns."""

_FIRST = 0x2800
_DOTS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))
"""Bit of each dot, by column and row (The Unicode Standard, chapter Braille Patterns)."""


class Braille:
    """Dots on a sheet of some columns and rows of characters."""

    def __init__(self, columns: int, rows: int) -> None:
        self._heights = 4 * rows
        self._bits = [[0] * columns for _ in range(rows)]
        self._before: tuple[int, int, int] | None = None

    def line(self, place: int, top: float, bottom: float) -> None:
        """Draw a column of dots between two shares of the height, joined to the column before.

        Parameters
        ----------
        place
            Column of dots, two to a character.
        top, bottom
            From 0, the upper edge, to 1, the lower one.
        """
        high, low = self._height(top), self._height(bottom)
        drawn = (place, high, low)
        if self._before is not None and self._before[0] == place - 1:
            _, high_before, low_before = self._before
            high, low = min(high, low_before + 1), max(low, high_before - 1)
        for height in range(high, low + 1):
            self._bits[height // 4][place // 2] |= _DOTS[place % 2][height % 4]
        self._before = drawn

    def cell(self, column: int, row: int) -> str:
        """Return the character at a place; empty where nothing is drawn."""
        bits = self._bits[row][column]
        return chr(_FIRST + bits) if bits else ""

    def _height(self, share: float) -> int:
        return min(max(round(share * (self._heights - 1)), 0), self._heights - 1)
