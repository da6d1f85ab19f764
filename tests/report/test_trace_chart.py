"""The drawing of held notes shows what was played, in the room there is."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.assessment.course import course_of
from intonation.heldnotes.traced_note import TracedNote
from intonation.report.trace_chart import FLATTER, SHARPER, that_fit, trace_lines
from intonation.report.trace_table import moment_lines, note_lines
from intonation.tracking.trace import PitchTrace
from intonation.words.trace import course_in_words

ROWS = 11
POINTS = st.lists(
    st.tuples(st.none() | st.floats(-400.0, 400.0), st.none() | st.floats(-120.0, 6.0)),
    max_size=150,
)


def a_note(
    cents: list[float | None], *, mean: float = 0.0, level_db: float = -20.0, number: int = 1
) -> TracedNote:
    """Return a note whose trace runs through given cents, counted from its mean."""
    trace = PitchTrace(0.025, tuple(cents), (level_db,) * len(cents))
    return TracedNote(
        number=number, midi=69, cents=mean, duration_s=0.025 * len(cents), trace=trace
    )


def rows_of_curve(note: TracedNote, *, width: int = 60) -> list[list[int]]:
    """Return for every column of the drawing the rows in which the curve is, the top first."""
    lines = list(trace_lines([note], width=width, rows=ROWS))[1 : ROWS + 1]
    padded = [line.ljust(width)[9:] for line in lines]
    return [
        [row for row in range(ROWS) if "\u2800" < padded[row][column] <= "\u28ff"]
        for column in range(width - 9)
    ]


def test_a_note_in_tune_runs_along_its_target() -> None:
    assert all(rows == [ROWS // 2] for rows in rows_of_curve(a_note([0.0] * 80)))


def test_sharp_is_up_and_a_rising_note_rises() -> None:
    rows = rows_of_curve(a_note([-14.0 + 0.35 * place for place in range(80)]))
    heights = [min(each) for each in rows if each]
    assert heights == sorted(heights, reverse=True)
    assert (heights[0], heights[-1]) == (ROWS - 1, 0)


def test_the_axis_is_wide_enough_for_the_note() -> None:
    for mean, tick in ((8.0, "+10"), (25.0, "+20"), (55.0, "+40"), (100.0, "+100")):
        drawn = "\n".join(trace_lines([a_note([0.0] * 80, mean=mean)], width=60, rows=ROWS))
        assert f"{tick} ┤" in drawn
        assert SHARPER not in drawn


def test_a_scoop_beyond_the_axis_leaves_a_mark_at_its_edge() -> None:
    drawn = "\n".join(trace_lines([a_note([-90.0, -60.0] + [0.0] * 78)], width=60, rows=ROWS))
    assert FLATTER in drawn


def test_louder_breath_stands_higher() -> None:
    trace = PitchTrace(0.025, (0.0,) * 80, tuple(-30.0 + 0.12 * place for place in range(80)))
    note = TracedNote(number=1, midi=69, cents=0.0, trace=trace)
    top, bottom = list(trace_lines([note], width=60, rows=ROWS))[-2:]
    heights = [
        " ▁▂▃▄▅▆▇█".index(a) + " ▁▂▃▄▅▆▇█".index(b)
        for a, b in zip(top.ljust(60)[9:], bottom.ljust(60)[9:], strict=True)
    ]
    assert heights == sorted(heights)
    assert heights[-1] - heights[0] >= 8


@given(notes=st.lists(POINTS, min_size=1, max_size=8), width=st.integers(40, 200))
@settings(max_examples=40, deadline=None)
def test_no_note_however_odd_breaks_out_of_its_room(
    notes: list[list[tuple[float | None, float | None]]], width: int
) -> None:
    played = [
        TracedNote(
            number=number,
            midi=69,
            cents=3.0,
            trace=PitchTrace(0.025, tuple(c for c, _ in points), tuple(d for _, d in points)),
        )
        for number, points in enumerate(notes)
    ]
    shown = played[: that_fit(played, width=width)]
    lines = list(trace_lines(shown, width=width, rows=ROWS))
    assert len(lines) == ROWS + 5
    assert max(map(len, lines)) <= width
    assert len(list(note_lines(shown))) == 2 + len(shown)
    for note in shown:
        assert len(list(moment_lines(note, rows=12))) <= 14


def test_what_a_note_did_is_put_into_words() -> None:
    sagging = [-30.0, -20.0, -10.0, -5.0] + [0.0] * 36 + [-0.4 * place for place in range(40)]
    course = course_of(a_note(sagging, mean=12.0))
    assert course is not None
    assert course.middle_cents == pytest.approx(12.0, abs=2.5)
    said = course_in_words(course)
    assert "below where it stays" in said
    assert "sinks" in said
    assert "even within 0.0 dB" in said
    steady = course_of(a_note([0.0] * 80))
    assert steady is not None
    assert "keeps its pitch to the end" in course_in_words(steady)


@pytest.mark.parametrize("cents", [[], [0.0] * 10, [None] * 80], ids=["none", "short", "unknown"])
def test_what_cannot_be_told_of_a_note_is_not_told(cents: list[float | None]) -> None:
    assert course_of(a_note(cents)) is None


def test_the_numbers_are_those_of_the_drawing() -> None:
    table = "\n".join(moment_lines(a_note([2.0] * 40 + [-8.0] * 40, mean=4.0), rows=8))
    assert "+6.0 sharp" in table
    assert "−4.0 flat" in table
