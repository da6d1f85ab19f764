"""A diagnosis as text for reading, as CSV and as JSON."""

import csv
import io
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from intonation.diagnosis.comparison import NoteChange
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis, PairDiagnosis
from intonation.diagnosis.verdict import ANSWERS
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.paragraphs import on_one_line, paragraph
from intonation.report.table import Column, table_lines
from intonation.report.verdict_table import VERDICT_COLUMNS, verdict_cells
from intonation.words.diagnosis import (
    MODEL_ESTIMATE,
    NOT_KNOWABLE,
    NOTHING_TO_DIAGNOSE,
    change_in_words,
    give_or_take,
    open_notes_in_words,
    overall_in_words,
)

VERSION = 1
"""Version of the JSON; it changes when a reader of the old one would be misled."""

_PARTS = ("total", "instrument", "player", "breath", "habit")
_CHANGES = (
    Column(say("note"), numeric=False),
    Column(say("after − before")),
    Column("", numeric=False),
)


@dataclass(frozen=True, slots=True)
class Compared:
    """A comparison of sessions: which, and what changed."""

    before: tuple[str, ...]
    after: tuple[str, ...]
    changes: tuple[NoteChange, ...]


@dataclass(frozen=True, slots=True)
class DiagnosedPair:
    """A pair's diagnosis, and the comparison if one was asked for."""

    pair: PairDiagnosis
    compared: Compared | None = None


def diagnosis_lines(pairs: Sequence[DiagnosedPair]) -> Iterator[str]:
    """Yield a diagnosis as a player reads it, line by line."""
    if not pairs:
        yield from paragraph(NOTHING_TO_DIAGNOSE)
        return
    for diagnosed in pairs:
        yield from _pair_lines(diagnosed.pair)
        if diagnosed.compared is not None:
            yield from _compared_lines(diagnosed.compared)
        yield ""
    yield from paragraph(MODEL_ESTIMATE)
    yield from paragraph(NOT_KNOWABLE)


def _pair_lines(pair: PairDiagnosis) -> Iterator[str]:
    yield say(
        "{player} on {instrument}",
        player=on_one_line(pair.player),
        instrument=on_one_line(pair.instrument),
    )
    yield ""
    for sentence in overall_in_words(pair.overall):
        yield from paragraph(sentence)
    yield ""
    yield say("Cents from the mean of all notes, + sharp, with 90 % intervals:")
    yield from table_lines(VERDICT_COLUMNS, map(verdict_cells, pair.notes))
    waiting = open_notes_in_words(pair)
    if waiting:
        yield ""
        yield say("What would settle the open notes soonest:")
        for line in waiting:
            yield from paragraph(line, indent=2)


def _compared_lines(compared: Compared) -> Iterator[str]:
    yield ""
    yield say(
        "Before: {before}. After: {after}.",
        before=on_one_line(", ".join(compared.before)),
        after=on_one_line(", ".join(compared.after)),
    )
    if not compared.changes:
        yield from paragraph(
            say(
                "Too few notes were played both before and after: at least three are needed, for a "
                "change of all notes together looks like a change of the day."
            )
        )
        return
    rows = (
        (note_name(n.midi), give_or_take(n.change), change_in_words(n)) for n in compared.changes
    )
    yield from table_lines(_CHANGES, rows)


def diagnosis_json(pairs: Iterable[DiagnosedPair]) -> str:
    """Return a diagnosis as JSON text."""
    everything = {"version": VERSION, "pairs": [_pair_object(pair) for pair in pairs]}
    return json.dumps(everything, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _pair_object(diagnosed: DiagnosedPair) -> dict[str, Any]:
    pair, compared = diagnosed.pair, diagnosed.compared
    overall = pair.overall
    octaves = [
        {"low": o.low, "high": o.high, "width_cents": _interval(o.width)} for o in overall.octaves
    ]
    written: dict[str, Any] = {
        "player": pair.player,
        "instrument": pair.instrument,
        "overall": {
            "pitch_cents": _interval(overall.pitch),
            "window_cents": _interval(overall.window),
            "octaves": octaves,
        },
        "notes": [_note_object(note) for note in pair.notes],
    }
    if compared is not None:
        written["compared"] = {"before": list(compared.before), "after": list(compared.after)}
        changes = {change.midi: change for change in compared.changes}
        for note in written["notes"]:
            if note["midi"] in changes:
                note.update(_change_object(changes[note["midi"]]))
    return written


def _note_object(note: NoteDiagnosis) -> dict[str, Any]:
    parts = {f"{part}_cents": _interval(getattr(note, part)) for part in _PARTS}
    return {
        "midi": note.midi,
        "name": note_name(note.midi),
        "fingering": note.fingering,
        **parts,
        "cents_per_db": _interval(note.cents_per_db),
        "verdict": note.verdict,
        "lacks": note.lacks,
        "probabilities": {answer: round(note.probabilities.of(answer), 4) for answer in ANSWERS},
        "next": [
            {"experiment": n.experiment, "gain": round(n.gain, 4), "seconds": n.seconds}
            for n in note.next
        ],
    }


def _change_object(change: NoteChange) -> dict[str, Any]:
    return {
        "change_cents": _interval(change.change),
        "change": change.verdict,
        "change_probability": round(change.probability, 4),
    }


def _interval(value: Interval | None) -> dict[str, float] | None:
    if value is None:
        return None
    return {"mean": round(value.mean, 2), "low": round(value.low, 2), "high": round(value.high, 2)}


def diagnosis_csv(pairs: Iterable[DiagnosedPair]) -> str:
    """Return a diagnosis as CSV text, a row for every note; unknown figures are empty."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(_csv_header())
    for diagnosed in pairs:
        pair = diagnosed.pair
        compared = diagnosed.compared
        changes = {change.midi: change for change in compared.changes} if compared else {}
        for note in pair.notes:
            cells = [pair.player, pair.instrument, *_note_cells(note)]
            writer.writerow([*cells, *_change_cells(changes.get(note.midi)), note.lacks or ""])
    return text.getvalue()


def _csv_header() -> list[str]:
    header = ["player", "instrument", "midi", "name", "fingering"]
    for quantity in (*(f"{part}_cents" for part in _PARTS), "cents_per_db"):
        header += [quantity, f"{quantity}_low", f"{quantity}_high"]
    header += ["verdict", *(f"probability_{answer.replace(' ', '_')}" for answer in ANSWERS)]
    header += ["change_cents", "change_cents_low", "change_cents_high", "change", "lacks"]
    return header


def _note_cells(note: NoteDiagnosis) -> list[object]:
    cells: list[object] = [note.midi, note_name(note.midi), note.fingering]
    for quantity in (*(getattr(note, part) for part in _PARTS), note.cents_per_db):
        cells += _three(quantity)
    chances = [round(note.probabilities.of(answer), 4) for answer in ANSWERS]
    return [*cells, note.verdict, *chances]


def _change_cells(change: NoteChange | None) -> list[object]:
    return ["", "", "", ""] if change is None else [*_three(change.change), change.verdict]


def _three(value: Interval | None) -> list[object]:
    if value is None:
        return ["", "", ""]
    return [round(value.mean, 2), round(value.low, 2), round(value.high, 2)]
