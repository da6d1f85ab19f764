"""Figures as they stand in the cells of a table."""

from intonation.language import say
from intonation.words.numbers import rounded

UNKNOWN = "–"


def number(value: float | None, places: int = 1) -> str:
    """Return a figure, or a dash for an unknown one."""
    return UNKNOWN if value is None else rounded(value, places)


def signed(value: float | None, places: int = 1) -> str:
    """Return a figure with its sign, plus or minus; nothing before a zero."""
    text = number(value, places)
    return f"+{text}" if value is not None and value > 0 and float(text) else text


def deviation(cents: float) -> str:
    """Return a deviation in cents with its sign and its word: ``"+8.4 sharp"``."""
    text = signed(cents)
    if text == rounded(0.0, 1):
        return say("{text} in tune", text=text)
    sharp, flat = say("sharp"), say("flat")
    return f"{text} {(sharp if cents > 0 else flat).ljust(len(sharp))}"


def clock(seconds: float) -> str:
    """Return a time in a recording as minutes and seconds: ``"1:02.5"``."""
    tenths = round(10.0 * seconds)
    return f"{tenths // 600}:{tenths % 600 / 10:04.1f}"
