"""The demonstration of the check compares with the truth, and counts what is wrong as wrong."""

from dataclasses import replace

import pytest

from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis, Overall, PairDiagnosis
from intonation.diagnosis.verdict import Probabilities, Verdict
from intonation.report.check_demonstration import (
    CheckDemonstration,
    centred,
    check_demonstration_lines,
    judged,
    truly,
)

NONE = Interval(0.0, -4.0, 4.0)
NOTE = NoteDiagnosis(
    midi=70,
    fingering="fork",
    total=NONE,
    instrument=NONE,
    player=NONE,
    breath=NONE,
    habit=NONE,
    cents_per_db=NONE,
    verdict="in tune",
    probabilities=Probabilities(in_tune=0.9, instrument=0.1, player=0.0, both=0.0),
)


@pytest.mark.parametrize(
    ("parts", "owner"),
    [
        ((14.0, 1.0, 2.0), "instrument"),
        ((2.0, -9.0, -6.0), "player"),
        ((-12.0, -6.0, -5.0), "both"),
        ((12.0, -6.0, -5.0), "in tune"),
    ],
)
def test_the_truth_belongs_to_whoever_alone_is_beyond_the_tolerance(
    parts: tuple[float, float, float], owner: str
) -> None:
    assert truly(parts) == owner


@pytest.mark.parametrize(
    ("verdict", "judgement"),
    [
        ("instrument", "right"),
        ("at least partly the instrument", "partly right"),
        ("not enough evidence", "open"),
        ("player", "wrong"),
        ("at least partly the player", "wrong"),
        ("in tune", "wrong"),
    ],
)
def test_a_verdict_on_a_note_that_the_instrument_owns(verdict: Verdict, judgement: str) -> None:
    assert judged(replace(NOTE, verdict=verdict), (14.0, 1.0, 2.0)) == judgement


def test_the_story_names_truth_and_verdict_and_fits_the_terminal() -> None:
    notes = tuple(replace(NOTE, midi=midi) for midi in (70, 72, 74))
    overall = Overall(pitch=NONE, window=NONE, octaves=())
    pair = PairDiagnosis(player="p", instrument="alto", overall=overall, notes=notes)
    truth = {70: (30.0, 0.0, 3.0), 72: (0.0, 0.0, 3.0), 74: (0.0, 0.0, 3.0)}
    shown = CheckDemonstration("alto", 48, 150, pair, truth)
    assert centred(shown)[70] == pytest.approx((20.0, 0.0, 0.0))
    lines = list(check_demonstration_lines(shown))
    assert max(map(len, lines)) <= 80
    assert "Verdicts on 3 notes: 0 right, 0 partly right, 0 open, 3 wrong." in lines
