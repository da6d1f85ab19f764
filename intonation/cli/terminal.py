"""Text for terminals that cannot show every character."""

import codecs
import io
from typing import TextIO

_PLAIN = {"−": "-", "–": "-", "…": "...", "’": "'", "“": '"', "”": '"', "±": "+/-", "─": "-"}
_HANDLER = "intonation-plain"


def make_printable(stream: TextIO) -> None:
    """Let a stream print a plain character for each that it cannot show, rather than fail."""
    codecs.register_error(_HANDLER, _plain_characters)
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors=_HANDLER)


def _plain_characters(problem: UnicodeError) -> tuple[str, int]:
    if not isinstance(problem, UnicodeEncodeError):
        raise problem
    unprintable = problem.object[problem.start : problem.end]
    return "".join(_PLAIN.get(character, "?") for character in unprintable), problem.end
