"""Many players on many instruments at once."""

from dataclasses import replace

import numpy as np
import pytest

from intonation.diagnosis.attribution import sized
from intonation.diagnosis.diagnosing import diagnose
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.magnitudes import FREE, size_of
from intonation.heldnotes.row import HeldNoteRow
from tests.support.large_store import large_store
from tests.support.worlds import (
    CHROMATIC,
    USUAL,
    Sitting,
    Truth,
    World,
    made_instrument,
    made_player,
    truth_of,
)


def test_a_store_of_many_sharpens_every_part_and_its_intervals_hold() -> None:
    store = large_store(5, players=5, instruments=4, notes=4000)
    errors, inside = [], []
    for pair in diagnose(store.rows):
        truth = store.truths[pair.player, pair.instrument]
        for note, true in zip(pair.notes, truth.instrument_cents, strict=True):
            errors.append(note.instrument.mean - true)
            inside.append(note.instrument.low <= true <= note.instrument.high)
    assert len(errors) == 5 * 4 * 27
    assert np.sqrt(np.mean(np.square(errors))) < 2.0
    assert np.mean(inside) > 0.8


def test_days_that_contradict_each_other_in_a_large_store_are_named_and_left_open() -> None:
    store = large_store(8, players=2, instruments=1, notes=1200)
    names = sorted({row.session for row in store.rows})
    every_other = set(names[::2])
    moved = [
        replace(row, cents=row.cents + 40.0)
        if row.cents is not None and row.midi == 74 and row.session in every_other
        else row
        for row in store.rows
    ]
    honest, doubted = (
        [note for pair in diagnose(rows) for note in pair.notes if note.midi == 74]
        for rows in (store.rows, moved)
    )
    assert not any(note.lacks == "agreeing days" for note in honest)
    assert all(note.lacks == "agreeing days" for note in doubted)
    assert {note.verdict for note in doubted} == {"not enough evidence"}
    for before, after in zip(honest, doubted, strict=True):
        widths = [note.instrument.high - note.instrument.low for note in (before, after)]
        assert widths[1] > 2.0 * widths[0]


def practised_for_weeks(
    seed: int, *, days: int, world: World = USUAL
) -> tuple[list[HeldNoteRow], Truth]:
    """Return one check, and then every note once a day as always."""
    rng = np.random.default_rng(seed)
    player, instrument = made_player(rng, world), made_instrument(rng, world)
    check = Sitting(world, rng, player, instrument, "check", minutes=3.0).begin()
    for letter in "ABA":
        check.play_pass(letter, CHROMATIC)
    rows = check.rows
    for day in range(days):
        sitting = Sitting(world, rng, player, instrument, f"day {day}", minutes=5.0).begin()
        sitting.first_event = len(rows) + 1
        sitting.play_pass("A", CHROMATIC)
        rows = rows + sitting.rows
    return rows, truth_of(player, instrument, CHROMATIC)


def test_weeks_of_practice_beside_one_check_do_not_make_intervals_too_short() -> None:
    inside = []
    for seed in range(6):
        rows, truth = practised_for_weeks(seed, days=12)
        notes = diagnose(rows)[0].notes
        for note, instrument, player in zip(
            notes, truth.instrument_cents, truth.player_cents, strict=True
        ):
            inside.append(note.instrument.low <= instrument <= note.instrument.high)
            inside.append(note.player.low <= player <= note.player.high)
    assert np.mean(inside) > 0.88


def test_a_player_of_many_weeks_is_still_told_what_would_settle_an_open_note() -> None:
    notes = diagnose(practised_for_weeks(2, days=12)[0])[0].notes
    undecided = [note for note in notes if note.verdict.startswith(("at least", "not enough"))]
    assert undecided
    assert any(note.next for note in undecided)
    assert not any(note.next for note in notes if note not in undecided)


def test_whoever_changes_much_from_day_to_day_is_not_taken_to_be_steady() -> None:
    world = replace(USUAL, day_cents=3.0, pitch_cents=2.6, tail=1000.0, slips=0.0)
    found = []
    for seed in range(4):
        fit = sized(evidence_from(practised_for_weeks(seed, days=7, world=world)[0]))
        found.append(size_of("day") * np.exp(fit.log_size[FREE.index("day")]))
    assert np.mean(found) == pytest.approx(3.0, abs=0.7)
