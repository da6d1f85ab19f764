"""Many players on many instruments at once."""

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
