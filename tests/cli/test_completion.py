"""`intonation completion` prints a script that a real shell completes with."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from intonation.cli.commands import COMMANDS
from intonation.cli.main import main

BASH = shutil.which("bash")


@pytest.fixture(scope="module")
def script(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("completion") / "intonation"
    code = (
        "import sys; from intonation.cli.main import main; sys.exit(main(['completion', 'bash']))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    path.write_text(done.stdout, "utf-8")
    return path


def completed(script: Path, *typed: str) -> set[str]:
    """What bash itself offers after some words, the last of which is being typed."""
    assert BASH is not None
    words = " ".join(f'"{word}"' for word in ("intonation", *typed))
    code = (
        f"source {script}; COMP_WORDS=({words}); COMP_CWORD={len(typed)}; "
        "$(complete -p intonation | sed 's/.*-F \\([^ ]*\\).*/\\1/'); "
        "printf '%s\\n' \"${COMPREPLY[@]}\""
    )
    done = subprocess.run([BASH, "-c", code], capture_output=True, text=True, check=False)
    return set(done.stdout.split())


@pytest.mark.skipif(BASH is None, reason="needs bash")
def test_bash_completes_every_command_and_the_options_of_one(script: Path) -> None:
    assert completed(script, "") >= {command.name for command in COMMANDS}
    assert completed(script, "pract") == {"practise"}
    assert completed(script, "practise", "--pl") == {"--plain"}
    assert completed(script, "demo", "--player", "wr") == {"wren"}


def test_without_the_library_it_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "shtab", None)
    assert main(["completion", "zsh"]) == 2
    assert "pip install 'intonation[completion]'" in capsys.readouterr().err
