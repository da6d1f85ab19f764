"""The tables of a player's archive: their columns, and which rows each of them refers to."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import get_args

from intonation.acoustics.alterations import Work
from intonation.diagnosis.check import Form, Outcome
from intonation.heldnotes.columns import COLUMN_READERS, Column
from intonation.instruments.library import INSTRUMENT_NAMES
from intonation.instruments.other_systems import SYSTEMS
from intonation.language import say
from intonation.listening.trials import Register
from intonation.tracking.trace import MOST_POINTS, PitchTrace

FORMAT, VERSION = "intonation player archive", 1
"""The version changes when a reader of the older one would be misled."""

ABOUT = "about.json"
UNKNOWN_POINT = "?"
"""Stands for a point of a trace that is not known."""

_LARGEST = 1600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table.

    Parameters
    ----------
    columns
        How each column is read, in the order in which they are written.
    required
        Columns that must be there and not be empty.
    number
        Column with the row's own number in the file, unique in its table; None if it has none.
    refers
        Columns that hold a number of a row of another table, which stands earlier.
    as_long_as
        Columns that hold lists of one length.
    """

    columns: Mapping[str, Column]
    required: frozenset[str]
    number: str | None = None
    refers: Mapping[str, str] = field(default_factory=dict)
    as_long_as: tuple[str, ...] = ()


def _moment(text: str) -> str:
    moment = datetime.fromisoformat(text.strip())
    if moment.tzinfo is None:
        raise ValueError(text)
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def _text(text: str) -> str:
    return text


def _one_of(allowed: tuple[str, ...]) -> Column:
    def read(text: str) -> str:
        if text not in allowed:
            raise ValueError(text)
        return text

    return Column(read, say("one of {allowed}", allowed=", ".join(allowed)), allowed[0])


def _above_zero(text: str) -> float:
    number = float(text)
    if not (math.isfinite(number) and number > 0.0):
        raise ValueError(text)
    return number


def _points(text: str) -> str:
    points = text.split(" ")
    known = [float(point) for point in points if point != UNKNOWN_POINT]
    if len(points) > 2 * MOST_POINTS or any(not abs(value) <= _LARGEST for value in known):
        raise ValueError(text)
    return text


_COUNT, _NAME = COLUMN_READERS["event"], COLUMN_READERS["player"]
_NOTE, _NUMBER = COLUMN_READERS["midi"], COLUMN_READERS["sd_cents"]
_FLAG, _CENTS = COLUMN_READERS["blind"], COLUMN_READERS["cents"]
_MOMENT = Column(_moment, say("a moment with its time zone"), "2031-03-14T19:30:00Z")
_TEXT = Column(_text, say("a text"), say("two turns of paper"))
_HZ = Column(_above_zero, say("a frequency in hertz"), "440.0")
_SECONDS = Column(_above_zero, say("a time in seconds"), "0.025")
_POINTS = Column(_points, say("numbers with single spaces between them"), "-3.5 ? 0.25")

_HELD = {
    # An archive gives back whatever was kept, however odd.
    "minutes": _NUMBER,
    "temperature_c": _NUMBER,
    "level_db": _NUMBER,
    "take": _COUNT,
    "held_at": _MOMENT,
    "number": _COUNT,
    "duration_s": _NUMBER,
    "f0_hz": _HZ,
    "target_hz": _HZ,
    "standard_error_cents": _NUMBER,
    "cents_per_db": _NUMBER,
    "vibrato_hz": _NUMBER,
    "vibrato_cents": _NUMBER,
    "remedy": _NAME,
    "reason": _NAME,
    "predicted_cents": _NUMBER,
}
_ANSWERED = {
    "drill": _NAME,
    "interval": _NAME,
    "register": _one_of(get_args(Register)),
}


def _table(
    columns: dict[str, Column],
    *,
    optional: str = "",
    number: str | None = None,
    refers: dict[str, str] | None = None,
) -> Table:
    required = frozenset(columns) - frozenset(optional.split())
    return Table(columns=columns, required=required, number=number, refers=refers or {})


TABLES: dict[str, Table] = {
    "instruments": _table(
        {
            "instrument": _NAME,
            "size": _one_of(INSTRUMENT_NAMES),
            "fingering_system": _one_of(SYSTEMS),
            "a4_hz": _HZ,
            "remark": _TEXT,
        },
        optional="size fingering_system a4_hz remark",
    ),
    "former-names": _table({"instrument": _NAME, "name": _NAME}),
    "sessions": _table(
        {"instrument": _NAME, "session": _NAME, "began_at": _MOMENT}, optional="began_at"
    ),
    "takes": _table(
        {
            "take": _COUNT,
            "instrument": _NAME,
            "session": _NAME,
            "began_at": _MOMENT,
            "ended_at": _MOMENT,
            "a4_hz": _HZ,
            "temperament": _NAME,
            "drone_midi": _NOTE,
            "drone_fifth": _FLAG,
            "drone_octave": _FLAG,
            "voice": _NAME,
        },
        optional="ended_at drone_midi voice",
        number="take",
    ),
    "held-notes": Table(
        columns={**COLUMN_READERS, **_HELD},
        required=frozenset({"event", "player", "instrument", "session", "midi", "cents"}),
        number="event",
        refers={"take": "takes"},
    ),
    "traces": Table(
        columns={"event": _COUNT, "step_s": _SECONDS, "cents": _POINTS, "level_db": _POINTS},
        required=frozenset({"event", "step_s", "cents", "level_db"}),
        number="event",
        refers={"event": "held-notes"},
        as_long_as=("cents", "level_db"),
    ),
    "checks": _table(
        {
            "check": _COUNT,
            "instrument": _NAME,
            "size": _NAME,
            "form": _one_of(get_args(Form)),
            "a4_hz": _HZ,
            "began_at": _MOMENT,
            "ended_at": _MOMENT,
        },
        optional="ended_at",
        number="check",
    ),
    "check-steps": _table(
        {
            "check": _COUNT,
            "place": _COUNT,
            "pass_number": _COUNT,
            "pass": _NAME,
            "midi": _NOTE,
            "outcome": _one_of(get_args(Outcome)),
        },
        optional="outcome",
        refers={"check": "checks"},
    ),
    "check-notes": _table(
        {"event": _COUNT, "check": _COUNT, "place": _COUNT},
        number="event",
        refers={"event": "held-notes", "check": "checks"},
    ),
    "trials": _table(
        {
            "trial": _COUNT,
            "instrument": _NAME,
            "made_at": _MOMENT,
            "note": _TEXT,
            "undone_at": _MOMENT,
            "undo_note": _TEXT,
        },
        optional="note undone_at undo_note",
        number="trial",
    ),
    "trial-works": _table(
        {
            "trial": _COUNT,
            "place": _COUNT,
            "work": _one_of(get_args(Work)),
            "amount_mm": _NUMBER,
            "hole": _NAME,
            "from_mm": _NUMBER,
            "to_mm": _NUMBER,
        },
        optional="hole",
        refers={"trial": "trials"},
    ),
    "trial-predictions": _table(
        {"trial": _COUNT, "midi": _NOTE, "cents": _NUMBER}, refers={"trial": "trials"}
    ),
    "listening-answers": _table(
        {
            "answered_at": _MOMENT,
            **_ANSWERED,
            "step_cents": _CENTS,
            "deviation_cents": _CENTS,
            "choices": _COUNT,
            "choice": _NAME,
            "right_choice": _NAME,
        },
        optional="interval",
    ),
    "tuned-notes": _table(
        {"tuned_at": _MOMENT, **_ANSWERED, "start_cents": _CENTS, "final_cents": _CENTS},
        optional="interval",
    ),
}
"""The tables by name, each after those that it refers to."""


def trace_of(record: Mapping[str, object]) -> PitchTrace:
    """Return the trace of a row of ``traces``."""
    cents, level_db = (_listed(str(record[name])) for name in ("cents", "level_db"))
    return PitchTrace(float(str(record["step_s"])), cents, level_db)


def _listed(text: str) -> tuple[float | None, ...]:
    return tuple(None if point == UNKNOWN_POINT else float(point) for point in text.split(" "))
