"""``intonation archive``: one player's practice into a file, and out of files into the record."""

import argparse
from datetime import datetime
from pathlib import Path

from intonation.cli.progress import told_on_the_terminal
from intonation.cli.records import add_record_option, record_to_read
from intonation.engine.players import PlayersDesk
from intonation.errors import SettingsError
from intonation.language import say
from intonation.store.opening import make_ready
from intonation.store.places import record_path, settings_path
from intonation.store.settings import read_settings
from intonation.store.store import Store


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "archive",
        help=say("write one player's practice into a file, or merge such files into the record"),
        description=say(
            "Write everything that is kept of one player into an archive: a ZIP of CSV tables "
            "with checksums. Or import archives and held-note tables (CSV): what is here already "
            "is left out, and a file with a mistake is refused as a whole."
        ),
    )
    parser.add_argument("action", choices=("export", "import"), help=say("which way"))
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE", help=say("what to import"))
    parser.add_argument(
        "--player", metavar="NAME", help=say("whom to export (default: the last one)")
    )
    parser.add_argument(
        "--output", metavar="FILE", type=Path, help=say("the archive (default: PLAYER.zip)")
    )
    parser.add_argument(
        "--as",
        dest="as_player",
        metavar="NAME",
        help=say("the name that an imported player has here"),
    )
    add_record_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Export or import."""
    if arguments.action == "export":
        return _exported(arguments)
    if not arguments.files:
        raise SettingsError(
            say("There is nothing to import."),
            say("Name files: `intonation archive import FILE.zip`."),
        )
    return _imported(arguments)


def _exported(arguments: argparse.Namespace) -> int:
    if arguments.files:
        raise SettingsError(
            say("An export takes no files."),
            say("Name the archive with --output, the player with --player."),
        )
    player = arguments.player or read_settings(settings_path()).settings.practice.player
    path = arguments.output or Path(f"{_file_name(player)}.zip")
    with record_to_read(arguments.record) as store:
        with told_on_the_terminal() as progress:
            written = PlayersDesk(store, _now).write_out(player, path, progress=progress)
        print(written)
    return 0


def _imported(arguments: argparse.Namespace) -> int:
    with Store(arguments.record or record_path()) as store:
        make_ready(store)
        for path in arguments.files:
            with told_on_the_terminal() as progress:
                told = PlayersDesk(store, _now).take_in(
                    path, as_player=arguments.as_player, progress=progress
                )
            print(f"{path}: {told}")
    return 0


def _file_name(player: str) -> str:
    """Return a player's name without what a file's name may not hold."""
    plain = "".join(c if c.isalnum() or c in "-_ " else "-" for c in player).strip()
    return plain or "player"


def _now() -> datetime:
    return datetime.now().astimezone()
