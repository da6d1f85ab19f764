"""The card of a note that has ended: large name and number, cents axis, advice and its reason."""

from textual.content import Content

from intonation.app.lettering import large
from intonation.app.printing.figures import axis_for, axis_lines, mark_line
from intonation.app.printing.inks import SOFT, STRONG, TEXT, deviation_ink
from intonation.app.printing.wrapping import beside
from intonation.pitch.notes import note_name
from intonation.practice.events import NoteScored
from intonation.words.note_card import card_lines
from intonation.words.numbers import rounded

_GAP = "    "


def card(note: NoteScored, *, width: int) -> Content:
    """Return the card of a scored note.

    Parameters
    ----------
    note
        What the practice session said.
    width
        Width of the page in characters.
    """
    headline, target, held, advice, reason = card_lines(note)
    spread_cents = note.scored.held.sd_cents
    return Content("\n").join(
        [
            *_large_lines(note, f"{headline.partition(', ')[2]}\n{target}", width),
            mark_line(axis_for(width), note.scored.cents, spread_cents=spread_cents),
            axis_lines(axis_for(width)),
            Content.styled(f"\n{advice}", STRONG),
            Content.styled(reason, TEXT),
            Content.styled(held, SOFT),
        ]
    )


def _large_lines(note: NoteScored, text: str, width: int) -> list[Content]:
    """Return name and cents in large letters, with ordinary print wrapped beside them."""
    cents = note.scored.cents
    ink = deviation_ink(cents)
    name, number = large(note_name(note.scored.target.midi)), large(signed(cents, 1))
    left = [
        Content.assemble((letters, STRONG), _GAP, (digits, f"bold {ink}"), _GAP)
        for letters, digits in zip(name, number, strict=True)
    ]
    return beside(left, text, indent=left[0].cell_length, width=width, ink=ink)


def signed(cents: float, places: int = 0) -> str:
    """Return cents with their sign, ``"+8.4"``, ``"−3.0"``; zero has none."""
    text = rounded(cents, places)
    return text if text[0] == "−" or float(text) == 0.0 else f"+{text}"
