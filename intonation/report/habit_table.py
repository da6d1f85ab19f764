"""Habits as text for reading, as CSV and as JSON."""

import csv
import io
import json
from collections.abc import Iterator, Mapping
from typing import Any

from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis
from intonation.habits.contexts import ContextName
from intonation.habits.habit import Habits, NoteHabit, Week
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import UNKNOWN, number, signed
from intonation.report.paragraphs import paragraph
from intonation.report.table import Column, table_lines
from intonation.words.diagnosis import MODEL_ESTIMATE, chance_in_words
from intonation.words.habits import (
    CONTEXT_NAMES,
    HOW_WORKED_OUT,
    NO_CHECK,
    NO_HABITS,
    from_to,
    goes_with,
    is_said,
    overall_in_words,
    span_in_words,
)

VERSION = 1
"""Version of the JSON; it changes when a reader of the old one would be misled."""

Owners = Mapping[int, NoteDiagnosis]

_COLUMNS = (
    Column(say("note"), numeric=False),
    Column(say("cents")),
    Column("", numeric=False),
    Column("90 %"),
    Column(say("spread")),
    Column(say("4 weeks")),
    Column(say("held")),
    Column(say("goes with"), numeric=False),
)


def habit_lines(habits: Habits, *, player: str, instrument: str, owners: Owners) -> Iterator[str]:
    """Yield habits as a player reads them, line by line."""
    yield say("{player} on {instrument}", player=player, instrument=instrument)
    if not habits.notes:
        yield from paragraph(NO_HABITS)
        return
    yield from paragraph(f"{span_in_words(habits)}.")
    yield ""
    for sentence in overall_in_words(habits):
        yield from paragraph(sentence)
    yield ""
    yield from table_lines(_COLUMNS, (_cells(note, habits) for note in habits.notes))
    yield ""
    yield from _owner_lines(owners)
    yield from paragraph(HOW_WORKED_OUT)


def _owner_lines(owners: Owners) -> Iterator[str]:
    if not owners:
        yield from paragraph(NO_CHECK)
        return
    yield say("Whose it is, by the latest instrument checks:")
    columns = (Column(say("note"), numeric=False), Column(say("whose"), numeric=False))
    yield from table_lines(
        columns,
        (
            (note_name(midi), chance_in_words(owners[midi].verdict, owners[midi].probabilities))
            for midi in sorted(owners)
        ),
    )
    yield from paragraph(MODEL_ESTIMATE)


def _cells(note: NoteHabit, habits: Habits) -> tuple[str, ...]:
    usual = note.usual
    return (
        note_name(note.midi),
        signed(usual.mean if usual else None),
        is_said(note),
        from_to(usual) if usual else UNKNOWN,
        number(note.spread_cents),
        signed(note.trend.mean if note.trend else None, 0),
        str(note.count),
        goes_with(note, habits),
    )


def habit_json(habits: Habits, *, player: str, instrument: str, owners: Owners) -> str:
    """Return habits as JSON text."""
    written = {
        "version": VERSION,
        "player": player,
        "instrument": instrument,
        "first_day": habits.first_day.isoformat() if habits.first_day else None,
        "last_day": habits.last_day.isoformat() if habits.last_day else None,
        "held_notes": habits.count,
        "sittings": habits.sittings,
        "overall_cents": _interval(habits.overall),
        "trend_cents_per_four_weeks": _interval(habits.trend),
        "contexts": _contexts(habits.contexts),
        "notes": [_note_object(note, owners.get(note.midi)) for note in habits.notes],
    }
    return json.dumps(written, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _note_object(note: NoteHabit, owner: NoteDiagnosis | None) -> dict[str, Any]:
    return {
        "midi": note.midi,
        "name": note_name(note.midi),
        "held_notes": note.count,
        "sittings": note.sittings,
        "usual_cents": _interval(note.usual),
        "spread_cents": None if note.spread_cents is None else round(note.spread_cents, 2),
        "trend_cents_per_four_weeks": _interval(note.trend),
        "contexts": _contexts(note.contexts),
        "weeks": [_week(week) for week in note.weeks],
        "verdict": owner.verdict if owner else None,
    }


def _contexts(found: Mapping[ContextName, Interval]) -> dict[str, Any]:
    """Return contexts by a name that says its unit."""
    units = {"louder": "louder_cents_per_6_db", "long": "long_cents_per_s"}
    return {
        units.get(name, f"{name.replace(' ', '_')}_cents"): _interval(one)
        for name, one in found.items()
    }


def _week(week: Week) -> dict[str, Any]:
    return {
        "monday": week.monday.isoformat(),
        "held_notes": week.count,
        "cents": _interval(week.cents),
    }


def _interval(value: Interval | None) -> dict[str, float] | None:
    if value is None:
        return None
    return {"mean": round(value.mean, 2), "low": round(value.low, 2), "high": round(value.high, 2)}


def habit_csv(habits: Habits, *, player: str, instrument: str, owners: Owners) -> str:
    """Return habits as CSV text, a row for every note; unknown figures are empty."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(_csv_header())
    for note in habits.notes:
        owner = owners.get(note.midi)
        writer.writerow(
            [
                player,
                instrument,
                note.midi,
                note_name(note.midi),
                note.count,
                note.sittings,
                *_three(note.usual),
                "" if note.spread_cents is None else round(note.spread_cents, 2),
                *_three(note.trend),
                *(cell for name in CONTEXT_NAMES for cell in _three(note.contexts.get(name))),
                owner.verdict if owner else "",
            ]
        )
    return text.getvalue()


def _csv_header() -> list[str]:
    contexts: dict[ContextName, Interval] = dict.fromkeys(CONTEXT_NAMES, Interval(0.0, 0.0, 0.0))
    header = ["player", "instrument", "midi", "name", "held_notes", "sittings"]
    header += [*_headings("usual_cents"), "spread_cents"]
    header += _headings("trend_cents_per_four_weeks")
    for name in _contexts(contexts):
        header += _headings(name)
    return [*header, "verdict"]


def _headings(name: str) -> list[str]:
    return [name, f"{name}_low", f"{name}_high"]


def _three(value: Interval | None) -> list[object]:
    if value is None:
        return ["", "", ""]
    return [round(value.mean, 2), round(value.low, 2), round(value.high, 2)]
