"""A player asks for a fingering and gets it, or learns which notes there are."""

import pytest

from intonation.cli.main import main


def test_the_whole_chart_is_printed_from_the_lowest_note_up(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["fingerings", "--instrument", "soprano"]) == 0
    printed = capsys.readouterr().out
    assert "C5     ● │ ● ● ● │ ● ● ● ●" in printed
    assert printed.index("C5 ") < printed.index("C6 ") < printed.index("C7 ")


def test_one_note_comes_with_its_alternatives_and_their_sources(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["fingerings", "E5", "--sources"]) == 0
    printed = capsys.readouterr().out
    assert "-11 c" in printed
    assert "Source: N. S. Lander" in printed


def test_a_note_outside_the_chart_is_answered_with_the_compass(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["fingerings", "C4"]) == 2
    assert "Ask for sounding notes from F4 to G6." in capsys.readouterr().err


def test_another_fingering_system_is_printed_whole(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fingerings", "--system", "german", "--instrument", "soprano"]) == 0
    printed = capsys.readouterr().out
    assert "German fingering" in printed.splitlines()[0]
    assert "F5     ● │ ● ● ● │ ● ○ ○ ○" in printed
    assert "G5     ● │ ● ● ● │ ○ ○ ○ ○" in printed
