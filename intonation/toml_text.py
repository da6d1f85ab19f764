"""A TOML file of the player's own: parsed once, and every mistake in it named with its line."""

import difflib
import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from intonation.errors import DataFileError

LONGEST_FILE_CHARACTERS = 1_000_000
_HEADER = re.compile(r"\s*\[\[?\s*([^\]\[]+?)\s*\]?\]")


@dataclass(frozen=True, slots=True)
class TomlText:
    """A parsed TOML text that remembers where its keys stand.

    Parameters
    ----------
    file_name
        Name of the file, for sentences.
    lines
        The text's lines.
    table
        What the text says.
    """

    file_name: str
    lines: tuple[str, ...]
    table: dict[str, Any]

    def line_of(self, key: str, *, header: str | None = None, nth: int = 0) -> int | None:
        """Return the line, from 1, of a key at the top or under the nth ``header``; None if absent.

        With an empty key the line of the header itself is returned.
        """
        current: tuple[str | None, int] = (None, 0)
        seen: dict[str, int] = {}
        starts_with_key = re.compile(rf"""\s*["']?{re.escape(key)}["']?\s*=""")
        for number, line in enumerate(self.lines, start=1):
            match = _HEADER.match(line)
            if match is not None:
                name = match.group(1)
                current = (name, seen.get(name, 0))
                seen[name] = current[1] + 1
            here = current == (header, nth)
            if here and (match is not None if key == "" else starts_with_key.match(line)):
                return number
        return None

    def mistake(self, line: int | None, problem: str, what_to_do: str) -> DataFileError:
        """Return the error for a problem on a line (None: somewhere in the file)."""
        place = self.file_name if line is None else f"{self.file_name}, line {line}"
        return DataFileError(f"{place}: {problem}", what_to_do)


def parse_toml(text: str, *, file_name: str, what_to_do: str) -> TomlText:
    """Return a TOML text with its lines.

    Raises
    ------
    DataFileError
        If the text is not TOML, or longer than any file of this kind.
    """
    if len(text) > LONGEST_FILE_CHARACTERS:
        raise DataFileError(f"{file_name} is far too long to be such a file.", what_to_do)
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as mistake:
        found = re.search(r"line (\d+)", str(mistake))
        place = f"{file_name}, line {found.group(1)}" if found else file_name
        reason = re.sub(r"\s*\(at .*\)$", "", str(mistake).splitlines()[0])
        raise DataFileError(f"{place}: this is not TOML ({reason}).", what_to_do) from None
    return TomlText(file_name, tuple(text.splitlines()), table)


def nearest_word(word: str, known: Iterable[str]) -> str:
    """Return advice that names the known words nearest to a mistaken one, or all of them."""
    words = [str(each) for each in known]
    near = difflib.get_close_matches(word, words, n=1, cutoff=0.5)
    if near:
        return f"Did you mean {near[0]}?"
    return f"Use one of {', '.join(words)}."
