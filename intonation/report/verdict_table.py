"""Whose each note's deviation is, as the rows of a table."""

from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.table import Column
from intonation.words.diagnosis import chance_in_words, give_or_take

VERDICT_COLUMNS = (
    Column(say("note"), numeric=False),
    Column(say("off by")),
    Column(say("instrument")),
    Column(say("breath")),
    Column(say("fingers")),
    Column(say("whose"), numeric=False),
)


def verdict_cells(note: NoteDiagnosis) -> tuple[str, ...]:
    """Return the cells of one note, in the order of `VERDICT_COLUMNS`."""
    parts: tuple[Interval | None, ...] = (note.total, note.instrument, note.breath, note.habit)
    if note.total.low == note.total.high:
        parts = (None,) * len(parts)  # a note that was measured alone has no others to be off from
    whose = chance_in_words(note.verdict, note.probabilities)
    return (note_name(note.midi), *map(give_or_take, parts), whose)
