"""The present pitch, for a player who asked to see it: a sentence and a mark on the cents axis."""

from textual.content import Content

from intonation.app.printing.figures import axis_for, axis_lines, mark_line
from intonation.app.printing.inks import SOFT, STRONG, deviation_ink
from intonation.pitch.notes import note_name
from intonation.practice.events import PitchRevealed
from intonation.words.numbers import sharp_or_flat


def reading(revealed: PitchRevealed | None, *, width: int, how: str) -> Content:
    """Return four lines: the present deviation in words, its mark, and the axis.

    Parameters
    ----------
    revealed
        The latest reading; None while no note has sounded yet.
    width
        Width of the page in characters.
    how
        What to say until then.
    """
    axis = axis_for(width)
    if revealed is None:
        said, mark = Content.styled(how, SOFT), Content("")
    else:
        name = note_name(revealed.target.midi)
        ink = deviation_ink(revealed.cents)
        said = Content.assemble((f"{name}  ", STRONG), (sharp_or_flat(revealed.cents), ink))
        mark = mark_line(axis, revealed.cents)
    return Content("\n").join([said, mark, axis_lines(axis)])
