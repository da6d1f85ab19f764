"""The inks of the printed page, by what they say; the themes give them their colours."""

TEXT = "$foreground"
STRONG = "bold $foreground"
SOFT = "$ink-soft"
RULE = "$rule"
SHARP = "$sharp"
FLAT = "$flat"


def deviation_ink(cents: float) -> str:
    """Return the ink of a deviation; the word or the sign stands beside it all the same."""
    if abs(cents) < 0.05:
        return TEXT
    return SHARP if cents > 0 else FLAT
