"""Numbers as a musician reads them: cents with sharp or flat, levels, times and shares."""

_SHARES = {
    0.1: "a tenth",
    0.25: "a quarter",
    0.33: "a third",
    0.5: "half",
}


def rounded(number: float, places: int = 0) -> str:
    """Return a number without a trailing minus zero, with a real minus sign."""
    text = f"{number:.{places}f}"
    if float(text) == 0.0:
        text = text.lstrip("-")
    return text.replace("-", "−")


def cents_word(cents: float, places: int = 0) -> str:
    """Return a size in cents, for example ``"1 cent"`` or ``"8.4 cents"``."""
    number = rounded(abs(cents), places)
    return f"{number} cent" if number == "1" else f"{number} cents"


def sharp_or_flat(cents: float, places: int = 0) -> str:
    """Return a deviation in words, for example ``"8 cents sharp"`` or ``"dead in tune"``."""
    if float(f"{abs(cents):.{places}f}") == 0.0:
        return "dead in tune"
    return f"{cents_word(cents, places)} {'sharp' if cents > 0 else 'flat'}"


def share_of_hole(fraction: float) -> str:
    """Return the share of a hole in words, for example ``"a quarter"``; a percentage otherwise."""
    nearest = min(_SHARES, key=lambda share: abs(share - fraction))
    if abs(nearest - fraction) < 0.02:
        return _SHARES[nearest]
    return f"{100 * fraction:.0f} %"


def times(count: int) -> str:
    """Return how often, for example ``"once"`` or ``"4 times"``."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")
