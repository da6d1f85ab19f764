"""Choices in plain lines: the same as on the pages, by number."""

from collections.abc import Callable, Sequence

from intonation.app.choices import Choice, Settings
from intonation.app.plain import words
from intonation.app.plain.stand import PlainStand


def choose(
    stand: PlainStand,
    lines: Sequence[Choice[Settings]],
    settings: Settings,
    changed: Callable[[Settings], None],
) -> None:
    """Let the player change some settings, until Enter is pressed.

    Parameters
    ----------
    stand
        Says and asks.
    lines
        What can be chosen.
    settings
        The settings as they are.
    changed
        Told of every change.
    """
    _say_all(stand, lines, settings)
    stand.say(words.CHOOSE)
    while typed := stand.asked():
        number, _, value = typed.partition(" ")
        if typed == "?":
            _say_all(stand, lines, settings)
        elif not number.isdecimal() or not 1 <= int(number) <= len(lines):
            stand.say(words.NO_SUCH_NUMBER)
        else:
            line = lines[int(number) - 1]
            settings = _with_value(stand, line, settings, value.strip())
            changed(settings)


def _with_value(
    stand: PlainStand, line: Choice[Settings], settings: Settings, value: str
) -> Settings:
    """Return the settings after one line was typed, and say how they stand."""
    after = [settings]
    if value == "?":
        stand.say(line.explained(settings))
        return settings
    if value and line.entered is not None:
        entered = line.entered
        stand.try_to(lambda: after.append(entered(settings, value)))
    elif line.stepped is not None:
        after.append(_stepped_to(line, settings, value))
    stand.say(f"{line.label}: {line.shown(after[-1])}.")
    return after[-1]


def _stepped_to(line: Choice[Settings], settings: Settings, value: str) -> Settings:
    """Return the settings with the next value, or with the one that is shown as was typed."""
    assert line.stepped is not None
    stepped = line.stepped(settings, 1)
    first = line.shown(stepped)
    while value and line.shown(stepped) != value:
        stepped = line.stepped(stepped, 1)
        if line.shown(stepped) == first:
            return settings
    return stepped


def _say_all(stand: PlainStand, lines: Sequence[Choice[Settings]], settings: Settings) -> None:
    for number, line in enumerate(lines, start=1):
        stand.say(words.numbered(number, line.label, line.shown(settings)))
