"""A player can read every fingering of every instrument off the printed chart."""

import pytest

from intonation.instruments.fingering import Fingering
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.report.fingering_chart import chart_lines, drawn, source_lines


@pytest.mark.parametrize(
    ("fingering", "circles"),
    [
        ("0 123 4567", "● │ ● ● ● │ ● ● ● ●"),
        ("- -2- ----", "○ │ ○ ● ○ │ ○ ○ ○ ○"),
        ("/ 12- 456a-", "◒ │ ● ● ○ │ ● ● ◐ ○"),
        ("/ 1-3 4-6- bell", "◒ │ ● ○ ● │ ● ○ ● ○  foot stopped"),
    ],
)
def test_holes_are_drawn_from_the_thumb_down(fingering: str, circles: str) -> None:
    assert drawn(Fingering(fingering)) == circles


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
def test_every_note_of_every_instrument_is_on_its_chart(name: str) -> None:
    instrument = instrument_named(name)
    lines = chart_lines(instrument, instrument.notes_midi)
    named = [line for line in lines[1:-2] if not line.startswith(" ")]
    assert len(named) == len(instrument.notes_midi)


def test_an_alternative_shows_how_many_cents_it_differs() -> None:
    lines = chart_lines(instrument_named("alto"), [76])
    assert any("● │ ○ ● ● │ ○ ○ ○ ○    -11 c" in line for line in lines)


def test_each_source_is_named_once() -> None:
    lines = source_lines(instrument_named("alto"))
    assert len(lines) == len(set(lines)) > 3
