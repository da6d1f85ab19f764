"""``intonation completion``: the script that makes a shell complete commands and options."""

import argparse
import sys
from pathlib import Path

from intonation.errors import SetupError
from intonation.language import say

SHELLS = ("bash", "zsh", "tcsh")
_ADVICE = "Install it: python -m pip install 'intonation[completion]'"


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "completion",
        help=say("print what makes a shell complete commands and options"),
        description=say(
            "Print the script that makes your shell complete commands, options and file names. "
            "For bash, write it to ~/.local/share/bash-completion/completions/intonation; for "
            "zsh, to a file _intonation in a folder of your $fpath; for tcsh, to a file that "
            "~/.tcshrc sources. Then open another shell. Make it anew after an update. It needs "
            "the library shtab."
        ),
    )
    parser.add_argument("shell", choices=SHELLS, help=say("which shell"))


def run(arguments: argparse.Namespace) -> int:
    """Print the script."""
    try:
        import shtab
    except ImportError:
        raise SetupError(say("Completion needs the library shtab."), _ADVICE) from None
    from intonation.cli.main import whole_parser

    parser = whole_parser()
    _complete_files(parser, shtab.FILE)
    sys.stdout.write(shtab.complete(parser, arguments.shell))
    return 0


def _complete_files(parser: argparse.ArgumentParser, files: object) -> None:
    """Let every option that is a path complete file names."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for command in dict.fromkeys(action.choices.values()):
                _complete_files(command, files)
        elif action.type is Path:
            action.complete = files  # type: ignore[attr-defined]
