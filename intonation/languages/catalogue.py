"""Reads the file of a language: a PO file of GNU gettext, in UTF-8."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from gettext import GNUTranslations, NullTranslations
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.errors import DataFileError
from intonation.language import say
from intonation.languages.fields import what_is_wrong

if TYPE_CHECKING:
    from polib import POEntry, POFile

LARGEST_BYTES = 20_000_000


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The sentences of a language that can be used.

    Parameters
    ----------
    path
        The file that they come from.
    translations
        Every sentence that is in order; English stands in for the others.
    translated
        How many there are.
    mistakes
        What is wrong with the others, each with its line.
    """

    path: Path
    translations: NullTranslations
    translated: int
    mistakes: tuple[DataFileError, ...] = ()


def read_catalogue(path: Path) -> Catalogue:
    """Return the sentences of a file; one that lacks a field, or has another, is left out.

    Raises
    ------
    DataFileError
        If the file cannot be read, or is no PO file.
    """
    file = parsed(path)
    mistakes = [*_wrong_plurals(file, path), *_left_out(file, path)]
    try:
        translations: NullTranslations = GNUTranslations(io.BytesIO(file.to_binary()))
    except (ValueError, LookupError, UnicodeError, OSError) as cause:
        raise _damaged(path, str(cause)) from cause
    return Catalogue(path, translations, len(file.translated_entries()), tuple(mistakes))


def parsed(path: Path) -> "POFile":
    """Return a PO file as it is.

    Raises
    ------
    DataFileError
        If it cannot be read, or is no PO file.
    """
    import polib

    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise _damaged(path, say("it is far too large"))
        text = path.read_bytes().decode("utf-8-sig")
        return polib.pofile(f"{text}\n")
    except UnicodeDecodeError as cause:
        raise _damaged(path, say("it is not in UTF-8")) from cause
    except OSError as cause:
        # polib's own complaints are of this kind too, and have a line of theirs
        raise _damaged(path, cause.strerror or str(cause)) from cause


def _damaged(path: Path, why: str) -> DataFileError:
    return DataFileError(
        say("{path} cannot be read as a PO file ({why}).", path=path, why=why),
        say("Check its name, or mend it in an editor for PO files."),
    )


def _left_out(file: "POFile", path: Path) -> Iterator[DataFileError]:
    """Empty every entry that would not do, and yield what is wrong with it."""
    for entry in file.translated_entries():
        wrong = next(filter(None, (_wrong(entry, text) for text in _forms(entry))), None)
        if wrong:
            entry.msgstr, entry.msgstr_plural = "", dict.fromkeys(entry.msgstr_plural, "")
            yield DataFileError(
                say("{path}, line {line}: {wrong}.", path=path, line=entry.linenum, wrong=wrong),
                say('English stands in for it: "{sentence}"', sentence=entry.msgid),
            )


def _forms(entry: "POEntry") -> list[str]:
    return [*entry.msgstr_plural.values()] if entry.msgid_plural else [entry.msgstr]


def _wrong(entry: "POEntry", text: str) -> str:
    return what_is_wrong(text, entry.msgid, entry.msgid_plural or None)


def _wrong_plurals(file: "POFile", path: Path) -> Iterator[DataFileError]:
    """Take the usual plurals where those of the file cannot be understood, and say so."""
    from gettext import c2py

    rule = file.metadata.get("Plural-Forms", "")
    if not rule:
        return
    try:
        c2py(rule.split("plural=")[1].rstrip(" ;"))(2)
    except (ValueError, IndexError, RecursionError, ZeroDivisionError):
        file.metadata["Plural-Forms"] = "nplurals=2; plural=n != 1;"
        yield DataFileError(
            say("{path}: its rule for plurals cannot be understood: {rule}.", path=path, rule=rule),
            say("Write, for example, Plural-Forms: nplurals=2; plural=(n != 1);"),
        )
