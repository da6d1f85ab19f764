"""`intonation ear` shows what the ear drills have found, and lets a simulated listener do one."""

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from intonation.cli.main import main
from intonation.listening.adjustment import TunedNote
from intonation.listening.history import KeptTuning
from intonation.listening.trials import Condition
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.store import Store
from tests.cli.running import intonation

DRILLS = (
    "which way",
    "which is in tune",
    "find the culprit",
    "difference tone",
    "remember",
    "which note",
)


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(["ear", *arguments]) == 0
    return capsys.readouterr().out


def test_a_simulated_listener_is_measured(capsys: pytest.CaptureFixture[str]) -> None:
    text = printed(
        capsys,
        *("--simulate", "--interval", "fifth", "--register", "high", "--minutes", "6"),
        *("--threshold", "5", "--bias", "6", "--lapses", "0"),
    )
    found = re.search(r"threshold ([\d.]+) cents \(([\d.]+) to ([\d.]+)\)", text)
    assert found is not None
    _, low, high = map(float, found.groups())
    assert low < 5.0 < high
    assert "sharp sounds in tune to you" in text


@pytest.mark.parametrize("drill", DRILLS)
def test_every_drill_can_be_done_without_sound(
    drill: str, capsys: pytest.CaptureFixture[str]
) -> None:
    text = printed(capsys, "--simulate", "--drill", drill, "--minutes", "3")
    assert "answers" in text
    assert "threshold" in text


def test_the_history_lists_notes_tuned_by_ear_within_eighty_columns(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record, sixth = tmp_path / "ears.sqlite", Condition(drill="tune it", interval="minor sixth")
    with Store(record) as store:
        kept = ListeningAnswers(store.database)
        for number, cents in enumerate((-21.5, -33.5, -17.25)):
            at = datetime(2031, 3, 14, 9, number, tzinfo=UTC)
            note = TunedNote(start_cents=30.0, final_cents=cents)
            kept.add_tuned("wren", KeptTuning(condition=sixth, tuned_at=at, note=note))
    lines = printed(capsys, "--record", str(record), "--player", "wren").splitlines()
    assert "Tune it" in lines
    assert any("minor sixth low" in line and "−24.1 (" in line for line in lines)
    assert max(map(len, lines)) <= 80


def test_the_history_lists_what_a_named_record_has_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = str(tmp_path / "ears.sqlite")
    for drill in ("which way", "which is in tune"):
        printed(capsys, "--simulate", "--drill", drill, "--record", record, "--player", "wren")
    lines = printed(capsys, "--record", record, "--player", "wren").splitlines()
    assert "Which way" in lines
    assert "Which is in tune" in lines
    assert max(map(len, lines)) <= 80
    only = printed(capsys, "--record", record, "--player", "wren", "--drill", "which way")
    assert "Which is in tune" not in only


def test_a_simulated_listener_leaves_the_players_own_record_alone(tmp_path: Path) -> None:
    assert intonation("ear", "--simulate", "--minutes", "3", home=tmp_path).returncode == 0
    assert list(tmp_path.iterdir()) == []
    shown = intonation("ear", home=tmp_path)
    assert shown.returncode == 0
    assert "No answers of player are kept" in shown.stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--drill", "hum"), "which way, which is in tune"),
        (("--interval", "tritone"), "Choose one of unison"),
        (("--minutes", "1"), "3 to 6 minutes"),
        (("--threshold", "0"), "threshold above 0"),
        (("--instrument", "sackbut"), "sackbut"),
    ],
)
def test_a_wrong_choice_is_answered_with_what_there_is(
    arguments: tuple[str, str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["ear", "--simulate", *arguments]) == 2
    assert said in capsys.readouterr().err
