"""Temperaments as tables for people and as JSON for programs."""

import json
import textwrap
from collections.abc import Iterable, Iterator

from intonation.language import say
from intonation.pitch.notes import PITCH_CLASSES, note_name
from intonation.pitch.temperaments import Temperament
from intonation.pitch.tuning import tempered
from intonation.report.cells import signed
from intonation.report.table import WIDTH

VERSION = 1
_OCTAVE_FROM_C4 = range(60, 72)
_CELL = 6


def tuning_lines(
    temperaments: Iterable[Temperament], *, a4_hz: float, with_hz: bool = False
) -> Iterator[str]:
    """Yield what a player reads: each temperament's definition and its cents from equal.

    Parameters
    ----------
    temperaments
        Which ones.
    a4_hz
        Concert pitch.
    with_hz
        Whether the frequencies from C4 to B4 are given too.
    """
    yield say("Cents from equal temperament with A at zero; A4 = {a4_hz:g} Hz.", a4_hz=a4_hz)
    for temperament in temperaments:
        yield ""
        yield f"{temperament.title}  ({temperament.name})"
        yield from textwrap.wrap(temperament.definition, WIDTH - 2, initial_indent="  ",
                                 subsequent_indent="  ")  # fmt: skip
        yield _row(PITCH_CLASSES)
        yield _row(signed(cents) for cents in temperament.cents_from_equal)
        if with_hz:
            tuning = tempered(temperament, a4_hz=a4_hz)
            yield _row(f"{tuning.hz(midi):.1f}" for midi in _OCTAVE_FROM_C4)
        yield from textwrap.wrap(say("Source: {source}", source=temperament.source), WIDTH - 2,
                                 initial_indent="  ", subsequent_indent="  ")  # fmt: skip


def tunings_json(temperaments: Iterable[Temperament], *, a4_hz: float) -> str:
    """Return the temperaments as JSON, version 1: cents to four places, hertz to six."""
    content = {
        "version": VERSION,
        "a4_hz": a4_hz,
        "temperaments": [_json_entry(each, a4_hz) for each in temperaments],
    }
    return json.dumps(content, ensure_ascii=False, indent=1, allow_nan=False)


def _json_entry(temperament: Temperament, a4_hz: float) -> dict[str, object]:
    tuning = tempered(temperament, a4_hz=a4_hz)
    return {
        "name": temperament.name,
        "title": temperament.title,
        "cents_from_c": [round(cents, 4) for cents in temperament.cents_from_c],
        "cents_from_equal": [round(cents, 4) + 0.0 for cents in temperament.cents_from_equal],
        "hz": {note_name(midi): round(tuning.hz(midi), 6) for midi in _OCTAVE_FROM_C4},
        "definition": temperament.definition,
        "source": temperament.source,
    }


def _row(cells: Iterable[str]) -> str:
    return "  " + "".join(cell.rjust(_CELL) for cell in cells)
