"""Writes the file that a translator fills in, or brings one up to date."""

from pathlib import Path
from typing import TYPE_CHECKING

from intonation import __version__
from intonation.errors import DataFileError
from intonation.language import say
from intonation.languages.catalogue import parsed
from intonation.languages.sentences import all_sentences

if TYPE_CHECKING:
    from polib import POFile

_WIDTH = 90


def write_for_translator(path: Path) -> tuple[int, int]:
    """Write every sentence into a PO file; what is translated there already is kept.

    Returns
    -------
    tuple of int
        How many sentences are translated, and how many there are.

    Raises
    ------
    DataFileError
        If the file that is there cannot be read, or the new one not be written.
    """
    template = _template(path.stem)
    file = template
    if path.exists():
        file = parsed(path)
        file.merge(template)
    file.wrapwidth = _WIDTH
    written = path.with_name(f"{path.name}.new")
    try:
        written.write_text(f"{file}\n", "utf-8")
        written.replace(path)
    except OSError as cause:
        raise DataFileError(
            say("{path} cannot be written ({strerror}).", path=path, strerror=cause.strerror),
            say("Choose another file or folder."),
        ) from cause
    return len(file.translated_entries()), len(template)


def _template(language: str) -> "POFile":
    import polib

    file = polib.POFile(wrapwidth=_WIDTH)
    file.metadata = {
        "Project-Id-Version": f"intonation {__version__}",
        "Language": "" if language == "messages" else language,
        "MIME-Version": "1.0",
        "Content-Type": "text/plain; charset=UTF-8",
        "Content-Transfer-Encoding": "8bit",
        "Plural-Forms": "nplurals=2; plural=(n != 1);",
    }
    file.extend(
        polib.POEntry(
            msgid=sentence.text,
            msgid_plural=sentence.plural or "",
            msgstr_plural={0: "", 1: ""} if sentence.plural else {},
            msgctxt=sentence.meaning,
            occurrences=[(name, "") for name in files],
            flags=["python-brace-format"] if "{" in sentence.text else [],
        )
        for sentence, files in all_sentences().items()
    )
    return file
