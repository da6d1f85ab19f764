"""In an invented language nothing is left in English, but names and what others wrote.

The language changes every letter of every sentence, and makes it a third longer.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from intonation.cli.commands import COMMANDS
from intonation.instruments.library import INSTRUMENT_NAMES
from tests.languages.pseudo import pseudo, write_pseudo
from tests.support.two_instruments import keep_two_instruments

PAGES = (
    *("practice_page", "take_page", "exercises_page", "set_up_page", "todays_practice"),
    *("one_habit", "looking_back", "broken_off", "players_listed", "whole_instrument"),
)
PRINTED = (
    *("today", "habits", "notes --means --player wren", "keys", "exercises"),
    *("fingerings F4 B5", "ear --simulate --minutes 3", "languages"),
    *("tunings --a4 x", "exercises show nothing", "measure nothing.wav"),
)
NAMES = {
    *(
        "wren",
        "heron",
        "alto",
        "tenor",
        "plum",
        "school",
        "player",
        "nothing",
    ),  # players and their instruments
    *("intonation", "practise", "demo", "notes", "means", "practice", "sqlite"),  # typed, or paths
    *("Ctrl", "PgDn", "PgUp", "Innsbruck", "Vallotti", "just"),
    *("Dolmetsch", "Online", "Blood", "Munn", "CTAN", "Lander"),  # authors of charts
}
"""Players, instruments, files, keys and authors are called the same in every language."""

OF_ARGPARSE = {
    *("usage", "options", "positional", "arguments", "show", "this", "help", "message"),
    *("exit", "program", "version", "number", "error", "required", "following"),
}
"""Python's own parser of commands says these."""


TYPED = {
    *("write", "check", "import", "show", "list", "propose", "predict", "undo", "compare"),
    *" ".join(INSTRUMENT_NAMES).split(),
    "baroque",
}
"""Actions of commands, instruments and systems of fingering, as an option takes them."""


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """What pages and commands say in the invented language."""
    home = tmp_path_factory.mktemp("home")
    write_pseudo(home / "qps.po")
    keep_two_instruments(home / "practice.sqlite")
    helps = ("--help", *(f"{command.name} --help" for command in COMMANDS))
    run = subprocess.run(
        [sys.executable, "-m", "tests.languages.everything_said", *PAGES, *PRINTED, *helps],
        capture_output=True,
        encoding="utf-8",
        check=False,
        cwd=Path(__file__).parents[2],
        env={
            **os.environ,
            "INTONATION_HOME": str(home),
            "INTONATION_LANGUAGE": str(home / "qps.po"),
            "PYTHONUTF8": "1",
            "COLUMNS": "80",
            "TZ": "UTC",
        },
    )
    assert run.returncode == 0, run.stderr
    texts: dict[str, str] = json.loads(run.stdout)
    return texts


def english_words(text: str) -> set[str]:
    """Return words of plain letters, but names, and what is typed: options, paths, capitals."""
    typed = (
        r"(?m)^\s+intonation .*$|--[\w-]+|\{[^}]*\}|\S*/\S*"
        r"|\S+\.(?:toml|po|zip|wav|sqlite)\b|\b[A-Z]{2,}\b|\[\w+\]"
    )
    words = re.findall(r"(?<![\w-])[A-Za-z]{4,}(?![\w-])", re.sub(typed, " ", text))
    return {*words} - NAMES - OF_ARGPARSE


@pytest.mark.parametrize("page", PAGES)
def test_no_english_is_left_on_a_page(said: dict[str, str], page: str) -> None:
    assert english_words(said[page]) == set()


def test_no_english_is_left_in_what_commands_print(said: dict[str, str]) -> None:
    for typed in PRINTED:
        columns = said[typed]
        if typed in ("keys", "exercises"):  # the names that are typed stand in the first column
            columns = "\n".join(line[24:] for line in columns.splitlines())
        assert english_words(columns) == set(), typed


def test_no_english_is_left_in_the_help_of_a_command(said: dict[str, str]) -> None:
    left = {}
    for command in COMMANDS:
        text = said[f"{command.name} --help"]
        told = text[text.index("\n\n") :]  # the usage before it is nothing but what is typed
        left[command.name] = english_words(told) - TYPED
    assert {name: words for name, words in left.items() if words} == {}


def test_longer_words_leave_a_page_within_its_window(said: dict[str, str]) -> None:
    for page in PAGES:
        lines = said[page].splitlines()
        assert len(lines) == 24
        assert lines[-1].strip(), page


def test_a_field_stays_and_every_letter_changes() -> None:
    assert pseudo(" {count:>3} notes of %(prog)s, 90 %%. ") == (
        f" {{count:>3}} ńóťéś óƒ %(prog)s, 90 %%.{'~' * 11} "
    )
