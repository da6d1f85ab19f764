"""A choice that the player makes on a line of its own: shown, stepped through, typed, explained."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Settings = TypeVar("Settings")
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice(Generic[Settings]):
    """One line of a page of choices.

    Parameters
    ----------
    name, label
        Unique name, and what stands before the value.
    shown
        Returns the value as it is printed.
    explained
        Returns what the value means for the practice, in a sentence or two.
    stepped
        Returns the settings with the value so many steps on (negative: back); None if it can only
        be typed.
    entered
        Returns the settings with the value that a player has typed, or raises an IntonationError;
        None if it can only be stepped through.
    """

    name: str
    label: str
    shown: Callable[[Settings], str]
    explained: Callable[[Settings], str]
    stepped: Callable[[Settings, int], Settings] | None = None
    entered: Callable[[Settings, str], Settings] | None = None


def neighbour(values: Sequence[Value], value: Value, steps: int) -> Value:
    """Return the value so many steps on, going round; the first for one that is not there."""
    if value not in values:
        return values[0]
    return values[(values.index(value) + steps) % len(values)]


def next_named(values: Sequence[float], value: float, steps: int) -> float:
    """Return the next value up (steps > 0) or down a rising sequence, staying at its ends."""
    if steps > 0:
        return min((one for one in values if one > value), default=max(value, values[-1]))
    return max((one for one in values if one < value), default=min(value, values[0]))
