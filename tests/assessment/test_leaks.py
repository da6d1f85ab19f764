"""A leak is suspected when low notes are sharp and unstable while high ones are fine."""

from intonation.assessment.leaks import leak_suspected
from intonation.assessment.summary import NoteSummary
from intonation.instruments.library import instrument_named

ALTO = instrument_named("alto")
LEAKING = [NoteSummary(midi, 16.0, 8.0, 3) for midi in (65, 67, 69)]
FINE_HIGH = [NoteSummary(midi, 1.0, 2.0, 3) for midi in (74, 77, 81)]


def test_sharp_and_unstable_low_notes_under_fine_high_ones_are_a_leak() -> None:
    assert leak_suspected([*LEAKING, *FINE_HIGH], instrument=ALTO)


def test_a_player_who_is_sharp_everywhere_has_no_leak() -> None:
    sharp = [NoteSummary(midi, 15.0, 8.0, 3) for midi in (74, 77, 81)]
    assert not leak_suspected([*LEAKING, *sharp], instrument=ALTO)


def test_steady_sharp_low_notes_are_no_leak() -> None:
    steady = [NoteSummary(midi, 16.0, 1.5, 3) for midi in (65, 67, 69)]
    assert not leak_suspected([*steady, *FINE_HIGH], instrument=ALTO)


def test_a_few_notes_are_no_ground_for_suspicion() -> None:
    assert not leak_suspected(LEAKING, instrument=ALTO)
    assert not leak_suspected([LEAKING[0], *FINE_HIGH], instrument=ALTO)
