"""A TOML file of the player's own: parsed once, and every mistake in it named with its line."""

import difflib
import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from intonation.errors import DataFileError
from intonation.language import say

LONGEST_FILE_CHARACTERS = 1_000_000
_KEY = re.compile(r"""\s*["']?([^"'=\s]+)["']?\s*=""")
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
    places
        Line, from 1, by the name of the table (None: the top), which of its kind it is, and key;
        an empty key stands for the table's own header.
    """

    file_name: str
    lines: tuple[str, ...]
    table: dict[str, Any]
    places: Mapping[tuple[str | None, int, str], int]

    def line_of(self, key: str, *, header: str | None = None, nth: int = 0) -> int | None:
        """Return the line, from 1, of a key at the top or under the nth ``header``; None if absent.

        With an empty key the line of the header itself is returned.
        """
        return self.places.get((header, nth, key))

    def mistake(self, line: int | None, problem: str, what_to_do: str) -> DataFileError:
        """Return the error for a problem on a line (None: somewhere in the file)."""
        place = (
            self.file_name
            if line is None
            else say("{file_name}, line {line}", file_name=self.file_name, line=line)
        )
        return DataFileError(f"{place}: {problem}", what_to_do)


def parse_toml(text: str, *, file_name: str, what_to_do: str) -> TomlText:
    """Return a TOML text with its lines.

    Raises
    ------
    DataFileError
        If the text is not TOML, or longer than any file of this kind.
    """
    if len(text) > LONGEST_FILE_CHARACTERS:
        raise DataFileError(
            say("{file_name} is far too long to be such a file.", file_name=file_name), what_to_do
        )
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as mistake:
        raise _no_toml(str(mistake), text, file_name, what_to_do) from None
    lines = tuple(text.split("\n"))
    return TomlText(file_name, lines, table, _places(lines))


def _no_toml(reason: str, text: str, file_name: str, what_to_do: str) -> DataFileError:
    """Return the error for what tomllib says, which ends with ``(at line 3, column 5)``."""
    found = re.search(r"\(at line (\d+)", reason)
    at_end = "(at end of document)" in reason
    line = found.group(1) if found else text.rstrip().count("\n") + 1
    place = (
        say("{file_name}, line {line}", file_name=file_name, line=line)
        if found or at_end
        else file_name
    )
    said = re.sub(r"\s*\(at .*\)$", "", reason.splitlines()[0])
    return DataFileError(
        say("{place}: this is not TOML ({said}).", place=place, said=said), what_to_do
    )


def _places(lines: Iterable[str]) -> dict[tuple[str | None, int, str], int]:
    places: dict[tuple[str | None, int, str], int] = {}
    seen: dict[str, int] = {}
    header, nth = None, 0
    for number, line in enumerate(lines, start=1):
        heading, key = _HEADER.match(line), _KEY.match(line)
        if heading is not None:
            header = heading.group(1)
            nth = seen.get(header, 0)
            seen[header] = nth + 1
            places.setdefault((header, nth, ""), number)
        elif key is not None:
            places.setdefault((header, nth, key.group(1)), number)
    return places


def nearest_word(word: str, known: Iterable[str]) -> str:
    """Return advice that names the known words nearest to a mistaken one, or all of them."""
    words = [str(each) for each in known]
    near = difflib.get_close_matches(word, words, n=1, cutoff=0.5)
    if near:
        return say("Did you mean {near}?", near=near[0])
    return say("Use one of {words}.", words=", ".join(words))
