"""The interface opens from the command line, on a real terminal, and leaves it as it was."""

from pathlib import Path

from tests.support.terminal import intonation_in_a_terminal

LEFT_THE_SCREEN = "\x1b[?1049l"


def test_the_interface_opens_and_is_left_with_one_key(tmp_path: Path) -> None:
    with intonation_in_a_terminal(home=tmp_path) as terminal:
        terminal.wait_for("Instrument")
        terminal.press("q")
        assert terminal.wait_for_end() == 0
    assert LEFT_THE_SCREEN in terminal.drawn
    assert "Traceback" not in terminal.drawn


def test_the_demonstration_can_be_watched_and_keeps_nothing(tmp_path: Path) -> None:
    with intonation_in_a_terminal("demo", "--watch", home=tmp_path) as terminal:
        terminal.wait_for("Instrument")
        terminal.press(" ")
        terminal.wait_for("Listen")
        terminal.press("q")
        assert terminal.wait_for_end() == 0
    assert not list(tmp_path.glob("*.sqlite"))
    assert not list(tmp_path.glob("*.toml"))


def test_a_recording_that_is_not_there_is_said_on_the_screen(tmp_path: Path) -> None:
    with intonation_in_a_terminal("practise", "--recording", "gone.wav", home=tmp_path) as terminal:
        terminal.wait_for("gone.wav")
        terminal.press("q")
        assert terminal.wait_for_end() == 0
