"""Large letters that can be read from where the player stands: note names and numbers."""

_DRAWN = {
    "A": " ## |#  #|####|#  #|#  #",
    "B": "### |#  #|### |#  #|### ",
    "C": " ###|#   |#   |#   | ###",
    "D": "### |#  #|#  #|#  #|### ",
    "E": "####|#   |### |#   |####",
    "F": "####|#   |### |#   |#   ",
    "G": " ###|#   |# ##|#  #| ###",
    "#": " # # |#####| # # |#####| # # ",
    "b": "#  |#  |## |# #|## ",
    "0": " ## |#  #|#  #|#  #| ## ",
    "1": " # |## | # | # |###",
    "2": "### |   #| ## |#   |####",
    "3": "### |   #| ## |   #|### ",
    "4": "#  #|#  #|####|   #|   #",
    "5": "####|#   |### |   #|### ",
    "6": " ## |#   |### |#  #| ## ",
    "7": "####|   #|  # | #  | #  ",
    "8": " ## |#  #| ## |#  #| ## ",
    "9": " ## |#  #| ###|   #| ## ",
    "+": "   | # |###| # |   ",
    "−": "   |   |###|   |   ",
    ".": " | | | |#",
    " ": "  |  |  |  |  ",
}
_HALVES = {(" ", " "): " ", ("#", " "): "▀", (" ", "#"): "▄", ("#", "#"): "█"}
ROWS = 3


def large(text: str) -> list[str]:
    """Return three lines of block characters that show a note name or a number.

    Parameters
    ----------
    text
        Letters A to G, ``#``, ``b``, digits, ``+``, ``−``, full stop and space.
    """
    glyphs = [_DRAWN[letter].split("|") for letter in text]
    pixel_rows = [" ".join(glyph[row] for glyph in glyphs) for row in range(5)]
    pixel_rows.append(" " * len(pixel_rows[0]))
    pairs = zip(pixel_rows[0::2], pixel_rows[1::2], strict=True)
    return ["".join(map(_half, upper, lower)) for upper, lower in pairs]


def _half(upper: str, lower: str) -> str:
    return _HALVES[upper, lower]
