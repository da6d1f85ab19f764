"""The interface opens from the command line, on a real terminal, and is left as it was found."""

from pathlib import Path

from tests.support.terminal import Terminal


def command(*arguments: str) -> str:
    return f"import sys; from intonation.cli.main import main; sys.exit(main({list(arguments)!r}))"


def test_the_interface_opens_and_is_left_with_one_key(tmp_path: Path) -> None:
    with Terminal(command(), home=tmp_path) as terminal:
        assert terminal.shows("Welcome")
        terminal.type("q")
        assert terminal.wait() == 0
        assert "Traceback" not in terminal.drawn


def test_the_demonstration_can_be_watched_and_keeps_nothing(tmp_path: Path) -> None:
    with Terminal(command("demo", "--watch"), home=tmp_path) as terminal:
        assert terminal.shows("Concert pitch")
        terminal.type(" ")
        assert terminal.shows("Listen")
        terminal.type("q")
        assert terminal.wait() == 0
    assert not list(tmp_path.glob("*.sqlite"))
    assert not list(tmp_path.glob("*.toml"))


def test_a_recording_that_is_not_there_is_said_on_the_screen(tmp_path: Path) -> None:
    with Terminal(command("practise", "--recording", "gone.wav"), home=tmp_path) as terminal:
        assert terminal.shows("gone.wav")
        terminal.type("q")
        assert terminal.wait() == 0
