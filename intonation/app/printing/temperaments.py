"""Temperaments as tables: all of them in whole cents, and one exactly, with its frequencies."""

from collections.abc import Sequence

from textual.content import Content

from intonation.app import words
from intonation.app.printing.card import signed
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.pitch.notes import PITCH_CLASSES
from intonation.pitch.temperaments import Temperament
from intonation.pitch.tuning import tempered

_TITLE_WIDTH = 26
_COLUMN = 4
_LABEL = 4
_ROOMY = 90
_MIDDLE_OCTAVE = range(60, 72)


def temperament_table(
    temperaments: Sequence[Temperament], *, marked: Temperament, in_use: str
) -> Content:
    """Return one line of whole cents for each temperament, C first.

    Parameters
    ----------
    temperaments
        In the order of the lines.
    marked
        The one whose line stands out.
    in_use
        Name of the one that the player practises in; it has a dot before it.
    """
    heading = "".join(f"{name:>{_COLUMN}}" for name in PITCH_CLASSES)
    lines = [_line(one, marked=one is marked, in_use=one.name == in_use) for one in temperaments]
    return Content("\n").join([Content.styled(" " * _TITLE_WIDTH + heading, SOFT), *lines])


def _line(temperament: Temperament, *, marked: bool, in_use: bool) -> Content:
    sign = "▸" if marked else "·" if in_use else " "
    cents = "".join(f"{signed(one):>{_COLUMN}}" for one in temperament.cents_from_equal)
    line = Content.assemble(
        (f"{sign} {_cut(temperament.title):<{_TITLE_WIDTH - 2}}", STRONG if marked else TEXT),
        (cents, STRONG if marked else TEXT),
    )
    return line.stylize("on $chosen") if marked else line


def _cut(title: str) -> str:
    """Return as much of a title as fits before the numbers."""
    room = _TITLE_WIDTH - 2
    return title if len(title) <= room else f"{title[: room - 1].rstrip()}…"


def temperament_in_full(temperament: Temperament, *, a4_hz: float, width: int) -> Content:
    """Return definition, source, exact cents, and hertz from C4 to B4 at a concert pitch."""
    tuning = tempered(temperament, a4_hz=a4_hz)
    hertz = [tuning.hz(midi) for midi in _MIDDLE_OCTAVE]
    column, places = (7, 2) if width >= _ROOMY else (6, 1)
    cents = [signed(one, places) for one in temperament.cents_from_equal]
    return Content("\n").join(
        [
            *beside([], temperament.definition, indent=0, width=width, ink=TEXT),
            *beside([], temperament.source, indent=0, width=width, ink=SOFT),
            _row("", PITCH_CLASSES, column, SOFT),
            _row(words.CENTS, cents, column, TEXT),
            _row(words.HERTZ, [f"{one:.{places}f}" for one in hertz], column, TEXT),
        ]
    )


def _row(label: str, values: Sequence[str], column: int, ink: str) -> Content:
    return Content.assemble(
        (f"{label:<{_LABEL}}", SOFT), ("".join(f"{value:>{column}}" for value in values), ink)
    )
