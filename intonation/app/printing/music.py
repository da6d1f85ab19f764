"""Music in text: chord symbols, note names as wide as they are long, and cents under them."""

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from intonation.app import words
from intonation.app.printing.card import signed
from intonation.app.printing.inks import SOFT, STRONG, TEXT, deviation_ink
from intonation.assessment.melody import MelodyScore
from intonation.exercise.score import ScoreNote
from intonation.pitch.notes import note_name

_COLUMNS_PER_BEAT = 4
_SHORTEST_CELL = 5
BREATH = " ’"
"""A comma after the note, the usual breath mark."""


@dataclass(frozen=True, slots=True)
class _Cell:
    """One note with what stands above and below it."""

    number: int
    name: str
    chord: str
    cents: float | None
    width: int


def music(
    notes: Sequence[ScoreNote],
    *,
    tempo: float,
    width: int,
    due: int | None = None,
    ink: str = TEXT,
) -> Content:
    """Return notes to play under their chords.

    Parameters
    ----------
    notes
        The notes of a phrase, in order.
    tempo
        Beats per minute.
    width
        Width of the page in characters.
    due
        Number of the note that it is time for; it stands out.
    ink
        Ink of the other notes.
    """
    rows: list[Content] = []
    for line in _lines(_cells(notes, tempo, [None] * len(notes)), width):
        rows += [_chords(line), _names(line, due, ink)]
    return Content("\n").join(rows)


def played_music(score: MelodyScore, *, tempo: float, width: int) -> Content:
    """Return the notes of a phrase that was played, with the cents of each under it."""
    notes = [each.note for each in score.notes]
    cells = _cells(notes, tempo, [each.cents for each in score.notes])
    rows: list[Content] = []
    for line in _lines(cells, width):
        rows += [_chords(line), _names(line, None, TEXT), _cents(line)]
    return Content("\n").join(rows)


def _cells(notes: Sequence[ScoreNote], tempo: float, cents: Sequence[float | None]) -> list[_Cell]:
    cells, before = [], ""
    for note, deviation in zip(notes, cents, strict=True):
        beats = note.duration_s * tempo / 60.0
        chord = _sounding_under(note)
        cells.append(
            _Cell(
                note.number,
                _name(note),
                chord if chord != before else "",
                deviation,
                max(_SHORTEST_CELL, len(chord) + 1, round(beats * _COLUMNS_PER_BEAT)),
            )
        )
        before = chord
    return cells


def _name(note: ScoreNote) -> str:
    """Return a note's name, with a comma after it where one breathes."""
    return note_name(note.target.midi) + (BREATH if note.breathe_after else "")


def _sounding_under(note: ScoreNote) -> str:
    """Return the chord, drone or reference note that sounds with a note."""
    target = note.target
    if target.chord is not None:
        return target.chord
    return note_name(target.over_midi) if target.over_midi is not None else ""


def _lines(cells: Sequence[_Cell], width: int) -> list[list[_Cell]]:
    lines: list[list[_Cell]] = [[]]
    for cell in cells:
        if lines[-1] and sum(one.width for one in lines[-1]) + cell.width > width:
            lines.append([])
        lines[-1].append(cell)
    return lines


def _chords(line: Sequence[_Cell]) -> Content:
    return Content.assemble(*[(f"{cell.chord:<{cell.width}}", SOFT) for cell in line])


def _names(line: Sequence[_Cell], due: int | None, usual_ink: str) -> Content:
    pieces: list[tuple[str, str]] = []
    for cell in line:
        ink = f"underline {STRONG}" if cell.number == due else usual_ink
        pieces += [(cell.name, ink), (" " * (cell.width - len(cell.name)), TEXT)]
    return Content.assemble(*pieces)


def _cents(line: Sequence[_Cell]) -> Content:
    return Content.assemble(
        *[
            (f"{words.NOT_HEARD:<{cell.width}}", SOFT)
            if cell.cents is None
            else (f"{signed(cell.cents):<{cell.width}}", deviation_ink(cell.cents))
            for cell in line
        ]
    )
