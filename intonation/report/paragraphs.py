"""Running text, broken into lines that fit the terminal."""

from textwrap import wrap

from intonation.report.table import WIDTH


def paragraph(text: str, *, indent: int = 0) -> list[str]:
    """Return a text in lines; a path or command in it stays whole, so that it can be copied."""
    margin = " " * indent
    return wrap(
        text,
        WIDTH,
        initial_indent=margin,
        subsequent_indent=margin,
        break_long_words=False,
        break_on_hyphens=False,
    )


def on_one_line(name: str) -> str:
    """Return a name as it can stand within a line: control characters would break or colour it."""
    return "".join(character if character.isprintable() else " " for character in name)
