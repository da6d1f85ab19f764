"""Running text beside other print: wrapped into a column of its own."""

import textwrap
from collections.abc import Sequence

from textual.content import Content


def beside(
    first: Sequence[Content], text: str, *, indent: int, width: int, ink: str
) -> list[Content]:
    """Return lines with some print at the left and text wrapped into a column at its right.

    Parameters
    ----------
    first
        What stands at the left, line by line; none of it wider than the indent.
    text
        Running text, each of its paragraphs wrapped into as many lines as it needs.
    indent, width
        Where the text's column begins, and where it ends.
    ink
        Ink of the text.
    """
    column = max(20, width - indent)
    wrapped = [line for part in text.splitlines() for line in textwrap.wrap(part, column)]
    count = max(len(first), len(wrapped))
    return [
        Content.assemble(
            _padded(first[row] if row < len(first) else Content(""), indent),
            (wrapped[row] if row < len(wrapped) else "", ink),
        )
        for row in range(count)
    ]


def _padded(content: Content, width: int) -> Content:
    return content.pad_right(max(0, width - content.cell_length))
