"""A date as it is typed on the command line."""

from datetime import datetime

from intonation.errors import SettingsError
from intonation.language import say


def moment_typed(text: str | None) -> datetime | None:
    """Return the beginning of a day, here, or a moment of it; None if nothing was typed.

    Raises
    ------
    SettingsError
        If it is no date.
    """
    if text is None:
        return None
    try:
        return datetime.fromisoformat(text).astimezone()
    except ValueError:
        raise SettingsError(
            say('"{text}" is not a date.', text=text),
            say("Write year, month and day, for example 2031-03-14."),
        ) from None
