"""The program's entrance: finds the command that is meant, runs it, and puts errors into words."""

import argparse
import importlib
import os
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TypeAlias

from intonation import __version__
from intonation.cli.commands import COMMANDS, Command, command_in
from intonation.cli.examples import examples_of
from intonation.cli.terminal import make_printable
from intonation.errors import IntonationError
from intonation.language import name_in_words, say
from intonation.languages.choice import speak_as_chosen
from intonation.store.places import settings_path

WRONG_INPUT = 2
INTERRUPTED = 130
PIPE_CLOSED = 141
"""Exit codes: 2 as argparse has it, the others 128 and the number of the signal."""

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""Our matrices are small: threads of a mathematics library only stand in each other's way, and in
that of the sound."""

_Subparsers: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program and return its exit code.

    Parameters
    ----------
    argv
        What was typed after the program's name; None takes it from the system.
    """
    try:
        return _said_and_done(list(sys.argv[1:] if argv is None else argv))
    except KeyboardInterrupt:
        return INTERRUPTED


def _said_and_done(typed: list[str]) -> int:
    for name in ONE_THREAD:
        os.environ.setdefault(name, "1")
    make_printable(sys.stdout)
    make_printable(sys.stderr)
    if complaint := speak_as_chosen(_settings()):
        print(complaint, file=sys.stderr)
    arguments = _parsed(typed)
    try:
        code = _run(arguments)
        sys.stdout.flush()
    except IntonationError as error:
        if arguments.debug:
            raise
        print(error, file=sys.stderr)
        return WRONG_INPUT
    except BrokenPipeError:
        _let_go_of_output()
        return PIPE_CLOSED
    return code


def _settings() -> Path | None:
    try:
        return settings_path()
    except ImportError:  # the demonstration runs without any library
        return None


def parser_for(arguments: list[str]) -> argparse.ArgumentParser:
    """Return the parser for what was typed; only the command that is meant knows its options."""
    parser, subparsers = _parser()
    meant = command_in(arguments)
    for command in COMMANDS:
        if command is meant:
            _add_whole(command, subparsers)
        else:
            subparsers.add_parser(command.name, help=name_in_words(command.summary), add_help=False)
    return parser


def whole_parser() -> argparse.ArgumentParser:
    """Return the parser in which every command knows its options; it takes a while to make."""
    parser, subparsers = _parser()
    for command in COMMANDS:
        _add_whole(command, subparsers)
    return parser


def _add_whole(command: Command, subparsers: _Subparsers) -> None:
    """Add a command with its options, and examples at the end of its help."""
    importlib.import_module(command.module).add_parser(subparsers)
    parser = subparsers.choices[command.name]
    parser.epilog = "\n\n".join(filter(None, (parser.epilog, examples_of(command.name))))
    parser.formatter_class = _Paragraphs


def _parser() -> tuple[argparse.ArgumentParser, _Subparsers]:
    parser = argparse.ArgumentParser(
        prog="intonation",
        description=say(
            "Keep a recorder and its player in tune, by ear first. Without a command the "
            "interface opens."
        ),
        epilog="\n\n".join(_epilog()),
        formatter_class=_Paragraphs,
    )
    parser.add_argument("-V", "--version", action="version", version=f"intonation {__version__}")
    parser.add_argument(
        "--debug", action="store_true", help=say("show where in the program it failed")
    )
    return parser, parser.add_subparsers(title=say("commands"), metavar="COMMAND", dest="command")


def _epilog() -> Iterator[str]:
    yield say("`intonation COMMAND --help` explains a command and its options.")
    yield say(
        "files:\n"
        "  The practice record, the settings (settings.toml) and your own keys (keys.toml) lie in "
        "your\n"
        "  folders for data and settings, or all in INTONATION_HOME if that is set. "
        "`intonation doctor`\n"
        "  says where."
    )
    yield say(
        "environment:\n"
        "  INTONATION_HOME      one folder for everything\n"
        "  INTONATION_LANGUAGE  the language, or the file of one; see `intonation languages`\n"
        "  NO_COLOR             if set, nothing is coloured"
    )
    yield say(
        "exit codes:\n"
        "  0    it went well\n"
        "  1    `intonation doctor` has found something to look at\n"
        "  2    something typed or read was wrong; one sentence says what and what to do\n"
        "  130  stopped with Ctrl+C\n"
    )


def _parsed(typed: list[str]) -> argparse.Namespace:
    if command_in(typed) is None and not {"-h", "--help", "-V", "--version"} & {*typed}:
        typed = _practising(typed)
    return parser_for(typed).parse_args(typed)


def _practising(typed: list[str]) -> list[str]:
    """Return what was typed without a command, as the usual command has it."""
    if any(not word.startswith("-") for word in typed):
        return [*typed, "practise"]  # a word that is no command: let the parser say so
    own = [word for word in typed if word == "--debug"]
    return [*own, "practise", *(word for word in typed if word != "--debug")]


class _Paragraphs(argparse.RawDescriptionHelpFormatter):
    """Keeps the lines of the text after the options."""

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        if "\n" in text:
            return super()._fill_text(text, width, indent)
        return argparse.HelpFormatter._fill_text(self, text, width, indent)


def _run(arguments: argparse.Namespace) -> int:
    command = next(command for command in COMMANDS if command.name == arguments.command)
    return int(importlib.import_module(command.module).run(arguments))


def _let_go_of_output() -> None:
    """Keep Python from complaining, at its very end, that nobody reads any more."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())


if __name__ == "__main__":
    sys.exit(main())
