"""The simulated recorder with two faults has them, and answers to work much as a real one would."""

import numpy as np
import pytest

from intonation.acoustics.alterations import Alteration
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.pitch.notes import midi_of_note
from intonation.simulation.two_faults import recorder_with_two_faults
from intonation.workshop.compass import compass_of

ALTO = instrument_named("alto")
STRIP = Alteration(work="line the bore", amount_mm=0.2, from_mm=82.0, to_mm=112.0)
PULL = Alteration(work="pull the head joint", amount_mm=1.0)


@pytest.mark.parametrize("seed", range(3))
def test_octaves_are_too_wide_and_the_notes_of_hole_4_are_flat(seed: int) -> None:
    cents = recorder_with_two_faults(ALTO, seed=seed).offset_cents
    widths = {low: cents[low + 12] - cents[low] for low in cents if low + 12 in cents}
    assert 18.0 < max(widths.values()) < 32.0
    # Common practice, no source: a hole moves the notes whose first open hole it is.
    for name in ("B4", "B5"):
        note = midi_of_note(name)
        assert cents[note] < min(cents[note - 1], cents[note + 2]) - 10.0


@pytest.mark.parametrize("work", [STRIP, PULL], ids=lambda work: work.work)
def test_work_does_a_little_less_than_predicted_and_is_undone_without_a_trace(
    work: Alteration,
) -> None:
    model = compass_of(ALTO)
    before = recorder_with_two_faults(ALTO, seed=0).offset_cents
    after = recorder_with_two_faults(ALTO, seed=0, work=[work]).offset_cents
    done = np.array([after[midi] - before[midi] for midi in model.midi])
    predicted = model.effect([work])
    assert 0.7 < float(done @ predicted / (predicted @ predicted)) < 1.0
    assert np.corrcoef(done, predicted)[0, 1] > 0.95
    assert recorder_with_two_faults(ALTO, seed=0, work=[]).offset_cents == before


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
def test_every_note_of_every_size_has_its_place(name: str) -> None:
    instrument = instrument_named(name)
    cents = recorder_with_two_faults(instrument, seed=1).offset_cents
    assert set(cents) == set(instrument.notes_midi)
    assert all(abs(each) < 60.0 for each in cents.values())
