"""The entrance: quick to start, quiet when stopped, one sentence when something is wrong."""

import argparse
import importlib
import os
import re
import shlex
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from intonation.cli.commands import COMMANDS, Command
from intonation.cli.main import main, parser_for, whole_parser
from tests.cli.running import intonation


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys; from intonation.cli.main import main\n"
        "try: main(['--help'])\n"
        "except SystemExit: print(*sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(run.stdout.split())
    assert "intonation.cli.main" in loaded
    assert loaded.isdisjoint({"numpy", "textual", "scipy", "sqlite3", "soundfile", "sounddevice"})


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_every_command_explains_itself_and_is_listed_with_the_same_words(
    command: object, capsys: pytest.CaptureFixture[str]
) -> None:
    name, summary = command.name, command.summary  # type: ignore[attr-defined]
    importlib.import_module(command.module)  # type: ignore[attr-defined]
    with pytest.raises(SystemExit) as left:
        main([name, "--help"])
    assert left.value.code == 0
    assert f"usage: intonation {name}" in capsys.readouterr().out
    from_module = " ".join(parser_for([name]).format_help().split())
    from_table = " ".join(parser_for([]).format_help().split())
    assert f"{name} {summary}" in from_table
    assert f"{name} {summary}" in from_module


def test_an_unknown_command_is_refused_with_those_that_exist(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit) as left:
        main(["transpose"])
    assert left.value.code == 2
    said = capsys.readouterr().err
    assert "transpose" in said
    assert "measure" in said


def test_a_mistake_of_the_player_is_one_sentence_and_a_traceback_only_on_demand(
    tmp_path: Path,
) -> None:
    run = intonation("measure", tmp_path / "missing.wav", home=tmp_path)
    assert run.returncode == 2
    assert run.stdout == ""
    assert len(run.stderr.splitlines()) == 1
    assert "missing.wav" in run.stderr
    debugged = intonation("--debug", "measure", tmp_path / "missing.wav", home=tmp_path)
    assert "Traceback" in debugged.stderr


def test_options_of_the_interface_may_stand_without_its_command(tmp_path: Path) -> None:
    run = intonation("--plain", home=tmp_path)
    assert run.returncode == 0
    assert "plain lines" in run.stdout


def parsers_in(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    yield parser
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for each in action.choices.values():
                yield from parsers_in(each)


def test_every_command_has_a_description_and_every_option_an_explanation() -> None:
    for parser in parsers_in(whole_parser()):
        assert len(parser.description or "") > 25, parser.prog
        for action in parser._actions:
            if not isinstance(action, argparse._SubParsersAction):
                assert action.help, f"{parser.prog} {action.option_strings or action.dest}"


EXAMPLES = re.compile(r"^  (intonation\b.*)$", re.MULTILINE)


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_the_help_of_every_command_ends_with_examples_that_can_be_typed(
    command: Command, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main([command.name, "--help"])
    examples = capsys.readouterr().out.split("\nexamples:\n")[1]
    for typed in EXAMPLES.findall(examples):
        words = shlex.split(typed.partition(" > ")[0])[1:] or ["practise"]
        assert parser_for(words).parse_args(words).command == command.name


def test_the_help_names_files_environment_and_exit_codes(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    text = capsys.readouterr().out
    for word in ("INTONATION_HOME", "NO_COLOR", "exit codes:", "keys.toml"):
        assert word in text
    assert max(map(len, text.splitlines())) <= 100


def test_without_a_terminal_the_interface_says_so_instead_of_failing(tmp_path: Path) -> None:
    run = intonation(home=tmp_path)
    assert run.returncode == 2
    assert "Traceback" not in run.stderr
    assert "terminal" in run.stderr


def test_a_reader_who_stops_reading_ends_the_program_quietly(tmp_path: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    run = subprocess.run(
        [sys.executable, "-m", "intonation", "notes", "--csv"],
        stdout=writing,
        stderr=subprocess.PIPE,
        env={**os.environ, "INTONATION_HOME": str(tmp_path)},
        check=False,
    )
    os.close(writing)
    assert run.stderr == b""
    assert run.returncode == 141


def test_control_c_ends_the_program_quietly(tmp_path: Path) -> None:
    fifo = tmp_path / "record.sqlite"
    os.mkfifo(fifo)
    program = subprocess.Popen(
        [sys.executable, "-m", "intonation", "notes", "--record", str(fifo)],
        stderr=subprocess.PIPE,
        env={**os.environ, "INTONATION_HOME": str(tmp_path)},
    )
    with fifo.open("wb"):  # opens as soon as the program waits for its other end
        program.send_signal(signal.SIGINT)
        _, said = program.communicate(timeout=30)
    assert said == b""
    assert program.returncode == 130


def test_a_terminal_that_knows_only_ascii_gets_plain_signs(tmp_path: Path) -> None:
    code = (
        "import sys; from intonation.cli.terminal import make_printable\n"
        "make_printable(sys.stdout); print('−3.2 cents – e♭')"
    )
    run = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
        check=True,
    )
    assert run.stdout.decode("ascii").strip() == "-3.2 cents - e?"
