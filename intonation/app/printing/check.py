"""The page of a check under way as print: the note in large letters, its fingering, progress."""

from textual.content import Content

from intonation.app.lettering import ROWS, large
from intonation.app.printing.inks import RULE, SOFT, STRONG, TEXT
from intonation.instruments.instrument import Instrument
from intonation.pitch.notes import note_name
from intonation.practice.checking import Checking
from intonation.report.fingering_chart import HOLES_HEADING, LEGEND, drawn
from intonation.words.check import progress_in_words

_LETTERS = 22


def asked_note(instrument: Instrument, midi: int) -> Content:
    """Return a note's name in large letters with its usual fingering beside it."""
    fingering = instrument.fingering(midi)
    picture = ["", HOLES_HEADING, drawn(fingering)] if fingering else [""] * ROWS
    inks = (TEXT, SOFT, STRONG)
    lines = [
        Content.assemble((f"  {letters:<{_LETTERS}}", STRONG), (row, ink))
        for letters, row, ink in zip(large(note_name(midi)), picture, inks, strict=True)
    ]
    legend = Content.styled(f"\n{LEGEND}", SOFT)
    return Content("\n").join([*lines, legend])


def progress_line(checking: Checking, *, width: int) -> Content:
    """Return how far a check is: a rule that grows heavier, and the numbers under it."""
    done = round(width * checking.check.share_done)
    return Content.assemble(
        ("━" * done, TEXT),
        ("─" * (width - done), RULE),
        ("\n", TEXT),
        (progress_in_words(checking), SOFT),
    )
