"""Days as they stand in a sentence."""

from datetime import date

from intonation.language import say, say_as

_MONTHS = (
    *(say("January"), say("February"), say("March"), say("April"), say("May"), say("June")),
    *(say("July"), say("August"), say("September"), say("October"), say("November")),
    say("December"),
)
_SHORT = (
    *(say_as("short", "Jan"), say_as("short", "Feb"), say_as("short", "Mar")),
    *(say_as("short", "Apr"), say_as("short", "May"), say_as("short", "Jun")),
    *(say_as("short", "Jul"), say_as("short", "Aug"), say_as("short", "Sep")),
    *(say_as("short", "Oct"), say_as("short", "Nov"), say_as("short", "Dec")),
)


def day_in_full(day: date) -> str:
    """Return a day: ``"14 March 2031"``."""
    month = _MONTHS[day.month - 1]
    return say("{day} {month} {year}", day=day.day, month=month, year=day.year)


def day_in_short(day: date) -> str:
    """Return a day where there is less room: ``"14 Mar 2031"``."""
    month = _SHORT[day.month - 1]
    return say("{day} {month} {year}", day=day.day, month=month, year=day.year)


def day_of_month(day: date) -> str:
    """Return a day of this year: ``"14 March"``."""
    return say("{day} {month}", day=day.day, month=_MONTHS[day.month - 1])
