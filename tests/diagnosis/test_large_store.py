"""Many players on many instruments at once."""

from dataclasses import replace

import numpy as np

from intonation.diagnosis.diagnosing import diagnose
from tests.support.large_store import large_store


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
