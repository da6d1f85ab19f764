"""A comparison as print: the sittings with their sides, and every note with what changed."""

from collections.abc import Mapping, Sequence

from textual.content import Content

from intonation.app import words
from intonation.app.printing.card import signed
from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT, deviation_ink
from intonation.app.printing.part_axis import PartAxis
from intonation.app.printing.workshop import wrapped
from intonation.diagnosis.comparison import NoteChange
from intonation.language import say, say_many
from intonation.pitch.notes import note_name
from intonation.store.records import SessionRecord
from intonation.words.check import changes_in_words
from intonation.words.numbers import rounded

_NOTE, _BESIDE, _WIDEST = 6, 42, 41
_SHOWN = 7
"""So many sittings are in sight at once; moving the mark brings the others."""


def sittings(
    known: Sequence[SessionRecord], sides: Mapping[str, str], *, marked: int, width: int
) -> Content:
    """Return the sittings around the marked one, each with its side."""
    lines = []
    first = min(max(0, marked - _SHOWN // 2), max(0, len(known) - _SHOWN))
    for place, record in list(enumerate(known))[first : first + _SHOWN]:
        mark = "▸" if place == marked else " "
        side = sides.get(record.session, "")
        count = say_many("{count} tone", "{count} tones", count=record.held_notes)
        text = f"{mark} {side:<8}{record.session}"
        line = Content.assemble(
            (f"{text:<{max(0, width - 12)}}", STRONG if side else TEXT), (f"{count:>12}", SOFT)
        )
        lines.append(line.stylize("on $chosen") if place == marked else line)
    return Content("\n").join(lines)


def changes(found: Sequence[NoteChange], *, width: int) -> Content:
    """Return what changed: in one sentence, then note by note with interval and mark."""
    lines = [wrapped([changes_in_words(tuple(found))], width=width, ink=STRONG)]
    if not found:
        return lines[0]
    room = min(width - _BESIDE, _WIDEST)
    axis = PartAxis.fitting([note.change for note in found], width=room - 1 + room % 2)
    lines += [Content(""), _heading(axis), *(_row(note, axis) for note in found)]
    lines.append(Content.styled(f"{'':<{_BESIDE}}{axis.rule()}", SOFT))
    return Content("\n").join(lines)


def _heading(axis: PartAxis) -> Content:
    ends = f"{words.FLAT:<{axis.width - len(words.SHARP)}}{words.SHARP}"
    return Content.styled(
        f"{say('note'):<{_NOTE}}{say('cents'):>5}  {say('90 % within'):<14}{'':<15}{ends}", SOFT
    )


def _row(note: NoteChange, axis: PartAxis) -> Content:
    change, ink = note.change, deviation_ink(note.change.mean)
    within = say("{low} to {high}", low=rounded(change.low), high=rounded(change.high))
    verdict = STRONG if note.verdict == "changed" else SOFT
    cells = [Content.styled(mark, RULE if mark == "│" else ink) for mark in axis.mark(change)]
    return Content.assemble(
        (f"{note_name(note.midi):<{_NOTE}}", STRONG),
        (f"{signed(round(change.mean)):>5}  ", ink),
        (f"{within:<14}", TEXT),
        (f"{note.verdict:<15}", verdict),
        *cells,
    )
