"""Held notes and their means as tables for reading."""

from collections.abc import Iterable, Iterator

from intonation.assessment.summary import NoteSummary
from intonation.heldnotes.row import HeldNoteRow
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import deviation, number, signed
from intonation.report.table import Column, table_lines

_COLUMNS = (
    Column(say("no.")),
    Column(say("player"), numeric=False),
    Column(say("instrument"), numeric=False),
    Column(say("session"), numeric=False),
    Column(say("note"), numeric=False),
    Column(say("cents")),
    Column(say("spread")),
    Column(say("drift/s")),
    Column(say("level dB")),
)
_MEANS = (
    Column(say("note"), numeric=False),
    Column(say("mean cents")),
    Column(say("spread")),
    Column(say("held")),
)


def held_note_lines(rows: Iterable[HeldNoteRow]) -> Iterator[str]:
    """Yield held notes as a table, one line each."""
    return table_lines(_COLUMNS, (_cells(row) for row in rows))


def mean_lines(notes: Iterable[NoteSummary]) -> Iterator[str]:
    """Yield every note's mean, spread and count as a table."""
    return table_lines(_MEANS, (_mean_cells(note) for note in notes))


def _cells(row: HeldNoteRow) -> tuple[str, ...]:
    return (
        str(row.event),
        row.player,
        row.instrument,
        row.session,
        note_name(row.midi),
        deviation(row.cents),
        number(row.sd_cents),
        signed(row.drift_cents_per_s),
        number(row.level_db),
    )


def _mean_cells(note: NoteSummary) -> tuple[str, ...]:
    spread = number(note.spread_cents) if note.count > 1 else number(None)
    return (note_name(note.midi), deviation(note.mean_cents), spread, str(note.count))
