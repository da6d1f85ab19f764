"""The columns of the held-note table: how each cell is read, and what it may hold."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import get_args

from intonation.heldnotes.row import Kind
from intonation.language import say

Cell = int | float | str | bool | None
KINDS: tuple[str, ...] = get_args(Kind)

_WHOLE = re.compile(r"-?[0-9]{1,15}", re.ASCII)
_HIGHEST_MIDI = 127
LARGEST_CENTS = 1200.0
COLDEST_C, WARMEST_C = -50.0, 50.0
LONGEST_MINUTES = 100_000.0
LARGEST_LEVEL_DB = 300.0
"""Beyond these a cell holds another quantity than its column says (design judgement)."""


_once = lru_cache(maxsize=4096)
"""Names and flags repeat from row to row: kept once, a long table takes less time and memory."""


@dataclass(frozen=True, slots=True)
class Column:
    """How one column is read.

    Parameters
    ----------
    read
        From the text of a cell to its value; raises ValueError for anything unexpected.
    expected, example
        What a cell may hold, for a sentence, and a right one.
    """

    read: Callable[[str], Cell]
    expected: str
    example: str


def _whole(text: str) -> int:
    if _WHOLE.fullmatch(text.strip()) is None:
        raise ValueError(text)
    return int(text)


def _counted(text: str) -> int:
    number = _whole(text)
    if number < 0:
        raise ValueError(text)
    return number


@_once
def _note(text: str) -> int:
    midi = _whole(text)
    if not 0 <= midi <= _HIGHEST_MIDI:
        raise ValueError(text)
    return midi


def _number(text: str) -> float:
    number = float(text)
    if not math.isfinite(number) or "_" in text:
        raise ValueError(text)
    return number


def _between(low: float, high: float) -> Callable[[str], float]:
    def read(text: str) -> float:
        number = _number(text)
        if not low <= number <= high:
            raise ValueError(text)
        return number

    return read


@_once
def _yes_or_no(text: str) -> bool:
    if text.strip() not in ("0", "1"):
        raise ValueError(text)
    return text.strip() == "1"


@_once
def _words(text: str) -> str:
    if not text.strip():
        raise ValueError(text)
    return text


@_once
def _kind(text: str) -> str:
    if text.strip() not in KINDS:
        raise ValueError(text)
    return text.strip()


_NAME = Column(_words, say("a name"), "soprano-1")
_COUNT = Column(_counted, say("a whole number from 0"), "7")
_NOTE = Column(_note, say("a MIDI note number from 0 to 127"), "69")
_NUMBER = Column(_number, say("a number"), "-3.5")
_MINUTES = Column(
    _between(0.0, LONGEST_MINUTES), say("a number of minutes from 0 to 100000"), "2.5"
)
_CELSIUS = Column(
    _between(COLDEST_C, WARMEST_C), say("a temperature from -50 to 50 degrees Celsius"), "20.5"
)
_CENTS = Column(
    _between(-LARGEST_CENTS, LARGEST_CENTS), say("a number of cents from -1200 to 1200"), "-3.5"
)
_LEVEL = Column(
    _between(-LARGEST_LEVEL_DB, LARGEST_LEVEL_DB), say("a level from -300 to 300 dB"), "-26.5"
)
_FLAG = Column(_yes_or_no, say("0 or 1"), "1")

COLUMN_READERS: dict[str, Column] = {
    "event": _COUNT,
    "player": _NAME,
    "instrument": _NAME,
    "session": _NAME,
    "midi": _NOTE,
    "fingering": _NAME,
    "kind": Column(_kind, say("one of {kinds}", kinds=", ".join(KINDS)), "natural"),
    "microphone": _NAME,
    "order": _COUNT,
    "minutes": _MINUTES,
    "temperature_c": _CELSIUS,
    "cents": _CENTS,
    "level_db": _LEVEL,
    "sd_cents": _NUMBER,
    "drift_cents_per_s": _NUMBER,
    "reference": _FLAG,
    "blind": _FLAG,
    "previous_midi": _NOTE,
    "swell": _NAME,
    "swell_step": _COUNT,
}
"""How the cells of each column are read, in the order of the table."""
