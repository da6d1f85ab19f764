"""``intonation keys``: every key of the interface, and a check of the player's own key file."""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.language import say, say_many

if TYPE_CHECKING:
    from intonation.app.own_keys import OwnKeys

_WRONG_FILE = 2


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "keys",
        help=say("list every key of the interface, and check a file of your own keys"),
        description=say(
            "List every key of the interface, page by page, as it is now. To change some, write a "
            "file keys.toml into the folder of the settings: a page in brackets, then what is to "
            'be done and the keys for it, such as  [take]  and  reveal = ["f5", "pageup"]. '
            "What the file does not name keeps its usual key. Pedals that turn pages send keys "
            "too, mostly pageup and pagedown, or left and right."
        ),
        epilog=say("Exit code 2 means that the file has a mistake; each is printed with its line."),
    )
    parser.add_argument(
        "--file", metavar="FILE", type=Path, help=say("check this file instead of your own")
    )
    parser.add_argument("page", nargs="?", metavar="PAGE", help=say("only this page, such as take"))


def run(arguments: argparse.Namespace) -> int:
    """Print the keys, then what is wrong with the file."""
    from intonation.app.own_keys import read_own_keys
    from intonation.store.places import own_keys_path

    file = arguments.file or own_keys_path()
    read = read_own_keys(file)
    sys.stdout.writelines(f"{line}\n" for line in _lines(read.keys, arguments.page))
    for complaint in read.complaints:
        print(complaint, file=sys.stderr)
    if not read.complaints:
        found = (
            _changed(len(read.keys), file)
            if file.exists()
            else say("There is no {file}.", file=file)
        )
        print(found[0].upper() + found[1:])
    return _WRONG_FILE if read.complaints else 0


def _lines(own: "OwnKeys", page: str | None) -> Iterator[str]:
    from intonation.app.key_names import shown_keys
    from intonation.app.key_table import keys_by_table
    from intonation.app.own_keys import with_own
    from intonation.errors import SettingsError
    from intonation.toml_text import nearest_word

    tables = keys_by_table()
    if page is not None and page not in tables:
        raise SettingsError(
            say('There is no page "{page}".', page=page), nearest_word(page, tables)
        )
    for table, named in tables.items():
        if page not in (None, table):
            continue
        yield f"[{table}]"
        for name, key in zip(named, with_own(named.values(), own), strict=True):
            yield f"  {name:16} {shown_keys(key.keys):18} {key.explanation}"
        yield ""


def _changed(count: int, file: Path) -> str:
    if not count:
        return say("no key is changed by {file}.", file=file)
    return say_many(
        "1 key is changed by {file}.", "{count} keys are changed by {file}.", count=count, file=file
    )
