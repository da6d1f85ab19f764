"""Numbers as a musician reads them: cents with sharp or flat, levels, times and shares."""

from intonation.language import say, say_many

_SHARES = {
    0.1: say("a tenth"),
    0.25: say("a quarter"),
    0.33: say("a third"),
    0.5: say("half"),
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
    # a fraction is never one cent, and no rule for plurals knows fractions
    count = int(number) if number.isdecimal() else 2
    return say_many("{number} cent", "{number} cents", count=count, number=number)


def sharp_or_flat(cents: float, places: int = 0) -> str:
    """Return a deviation in words, for example ``"8 cents sharp"`` or ``"dead in tune"``."""
    if float(f"{abs(cents):.{places}f}") == 0.0:
        return say("dead in tune")
    size = cents_word(cents, places)
    return say("{size} sharp", size=size) if cents > 0 else say("{size} flat", size=size)


def share_of_hole(fraction: float) -> str:
    """Return the share of a hole in words, for example ``"a quarter"``; a percentage otherwise."""
    nearest = min(_SHARES, key=lambda share: abs(share - fraction))
    if abs(nearest - fraction) < 0.02:
        return _SHARES[nearest]
    return f"{100 * fraction:.0f} %"


def times(count: int) -> str:
    """Return how often, for example ``"once"`` or ``"4 times"``."""
    if count == 2:
        return say("twice")
    return say_many("once", "{count} times", count=count)
