"""The list of players fits its page, and says what an instrument is where its name does not."""

from datetime import UTC, datetime

import pytest

from intonation.report.player_table import PairRow, pair_lines

DAY = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)


def row(player: str, instrument: str, size: str | None = None) -> PairRow:
    return PairRow(
        player=player,
        instrument=instrument,
        sittings=3,
        held_notes=240,
        first_at=DAY,
        last_at=DAY,
        size=size,
    )


def test_a_name_that_does_not_speak_of_the_size_is_followed_by_it() -> None:
    told = "\n".join(
        pair_lines([row("wren", "the plum", "tenor"), row("wren", "old alto", "alto")])
    )
    assert "the plum (tenor)" in told
    assert "old alto  " in told


@pytest.mark.parametrize("width", [52, 74, 90])
def test_long_names_do_not_break_the_lines_of_a_narrow_page(width: int) -> None:
    names = [row("simulated player", "school alto 3"), row("wren", "pearwood alto by the window")]
    lines = list(pair_lines(names, width=width))
    assert max(map(len, lines)) <= width
    assert all("2031-03-14" in line for line in lines[2:])
    assert [line[0] for line in lines[2:]] == ["s", "w"]
