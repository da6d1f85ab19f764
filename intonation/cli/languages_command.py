"""``intonation languages``: which there are; write, check or bring up to date the file of one."""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

from intonation.language import say
from intonation.report.table import Column

_COLUMNS = (
    Column(say("language"), numeric=False),
    Column(say("translated")),
    Column(say("file"), numeric=False),
)


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "languages",
        help=say("list the languages of the program, and write or check the file of one"),
        description=say(
            "List the languages that the program can speak. English is built in; another is one "
            "PO file, chosen by INTONATION_LANGUAGE or in the settings. Also: write the file that "
            "a translator fills in, or check one."
        ),
    )
    actions = parser.add_subparsers(dest="action", metavar="write|check")
    write = actions.add_parser(
        "write",
        help=say("write every sentence into a file, or bring it up to date"),
        description=say(
            "Write every sentence of the program into a PO file, ready to be translated. In a "
            "file that exists, translations are kept, what is new is added, and what has changed "
            "is marked as fuzzy."
        ),
    )
    write.add_argument("file", type=Path, metavar="FILE", help=say("such as de.po"))
    check = actions.add_parser(
        "check",
        help=say("name every mistake in a file"),
        description=say("Name every mistake in the file of a language, with its line."),
    )
    check.add_argument("file", type=Path, metavar="FILE", help=say("such as de.po"))


def run(arguments: argparse.Namespace) -> int:
    """List languages, or write or check the file of one."""
    if arguments.action == "write":
        return _write(arguments.file)
    return _check(arguments.file) if arguments.action == "check" else _list()


def _write(path: Path) -> int:
    from intonation.languages.writing import write_for_translator

    translated, count = write_for_translator(path)
    print(
        say(
            "{path} is written: {translated} of {count} sentences are translated.",
            path=path,
            translated=translated,
            count=count,
        )
    )
    return 0


def _check(path: Path) -> int:
    from intonation.languages.catalogue import read_catalogue
    from intonation.languages.sentences import all_sentences

    catalogue = read_catalogue(path)
    for mistake in catalogue.mistakes:
        print(mistake, file=sys.stderr)
    print(
        say(
            "{path}: {translated} of {count} sentences can be used.",
            path=path,
            translated=catalogue.translated,
            count=len(all_sentences()),
        )
    )
    return 2 if catalogue.mistakes else 0


def _list() -> int:
    from intonation.report.table import table_lines

    print(*table_lines(_COLUMNS, _rows()), sep="\n")
    return 0


def _rows() -> Iterator[tuple[str, str, str]]:
    from intonation.errors import DataFileError
    from intonation.languages.catalogue import read_catalogue
    from intonation.languages.choice import catalogue_files
    from intonation.store.places import settings_path

    yield "en", say("whole"), say("built in")
    for path in catalogue_files(settings_path().parent):
        try:
            translated = str(read_catalogue(path).translated)
        except DataFileError:
            translated = "–"
        yield path.stem, translated, str(path)
