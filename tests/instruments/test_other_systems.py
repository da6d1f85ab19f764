"""German and historic fingering: complete charts that differ where published sources say so."""

import numpy as np
import pytest

from intonation.acoustics.geometry import Geometry
from intonation.acoustics.library import alto_geometry
from intonation.acoustics.playing import playing_frequencies_hz
from intonation.instruments.instrument import Instrument
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.instruments.other_systems import SYSTEMS, in_system, other_fingerings
from intonation.pitch.notes import equal_tempered_hz, midi_of_note

# S. Blezinger, on baroque, German and historic fingering: the fourth step and the one above it.
PUBLISHED = [
    ("german", "Bb4", "0 123 4---"),
    ("historic", "Bb4", "0 123 4-6-"),
    ("historic", "B4", "0 123 -567"),
    ("historic", "Bb5", "/ 123 4-6a-"),
    ("historic", "B5", "/ 123 -56a-"),
]


def alto_in(system: str) -> Instrument:
    return in_system(instrument_named("alto"), system)


@pytest.mark.parametrize(("system", "note", "fingering"), PUBLISHED)
def test_the_published_fingerings_are_in_the_chart(system: str, note: str, fingering: str) -> None:
    assert str(alto_in(system).fingering(midi_of_note(note))) == fingering


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
@pytest.mark.parametrize("system", SYSTEMS)
def test_every_note_of_every_size_is_fingered_and_sourced_in_every_system(
    system: str, name: str
) -> None:
    instrument = in_system(instrument_named(name), system)
    for midi in instrument.notes_midi:
        entry = instrument.chart_note(midi)
        assert entry is not None
        assert all(entry.sources)


@pytest.mark.parametrize("system", SYSTEMS[1:])
def test_another_system_keeps_only_differences_that_its_holes_cannot_change(system: str) -> None:
    for entry in alto_in(system).chart.notes:
        for alternative in entry.alternatives:
            assert str(alternative.fingering).split()[2] == "----"


def test_a_note_fingered_alike_everywhere_has_no_other_system() -> None:
    assert other_fingerings(7) == ()
    assert [title for title, _ in other_fingerings(5)] == ["German fingering", "historic fingering"]


def cents_off(geometry: Geometry, system: str, notes: tuple[str, ...]) -> np.ndarray:
    midi = [midi_of_note(note) for note in notes]
    near = [equal_tempered_hz(note, a4_hz=440.0) for note in midi]
    fingered = [alto_in(system).fingering(note) for note in midi]
    fractions = [fingering.open_fractions() for fingering in fingered if fingering]
    return 1200.0 * np.log2(playing_frequencies_hz(geometry, fractions, near) / np.array(near))


def test_the_german_fourth_is_sharp_on_a_baroque_recorder_as_its_remark_says() -> None:
    # Published recognition mark: the hole that German fingering opens is larger on a baroque one.
    (sharp,) = cents_off(alto_geometry(), "german", ("Bb4",))
    assert sharp == pytest.approx(50.0, abs=5.0)
