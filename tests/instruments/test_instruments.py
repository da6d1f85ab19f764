"""The recorder family: compasses, charts and names, against published facts."""

import numpy as np
import pytest

from intonation.acoustics.library import geometry_of
from intonation.acoustics.playing import playing_frequencies_hz
from intonation.errors import SettingsError
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.pitch.notes import equal_tempered_hz, midi_of_note, note_name

# Lowest sounding notes as general encyclopaedias give them (garklein: from memory).
LOWEST = {
    "garklein": "C6",
    "sopranino": "F5",
    "soprano": "C5",
    "alto": "F4",
    "tenor": "C4",
    "bass": "F3",
    "great bass": "C3",
    "contrabass": "F2",
}

# B. Blood, recorder lessons, Dolmetsch Online; N. S. Lander, Recorder Home Page: alto notes.
PUBLISHED_ALTO = {
    "F4": "0 123 4567",
    "A4": "0 123 45--",
    "Bb4": "0 123 4-67",
    "C5": "0 123 ----",
    "Eb5": "0 1-3 4---",
    "E5": "0 1-- ----",
    "F#5": "- 12- ----",
    "G5": "- -2- ----",
    "E6": "/ 12- 45--",
    "F6": "/ 1-- 45--",
}

# Differences that published charts put into words: B. Blood calls C#5 without hole 6 a little
# sharp; N. S. Lander calls G5 with all fingers unduly flat on some recorders.
SHARPER_OR_FLATTER = {("C#5", "0 12- 45--"): +1, ("G5", "- 123 4567"): -1}


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
def test_every_size_has_its_published_lowest_note(name: str) -> None:
    assert note_name(instrument_named(name).lowest_midi) == LOWEST[name]


@pytest.mark.parametrize("name", INSTRUMENT_NAMES)
def test_every_note_of_every_size_has_a_fingering(name: str) -> None:
    instrument = instrument_named(name)
    assert all(instrument.fingering(midi) is not None for midi in instrument.notes_midi)


@pytest.mark.parametrize(("note", "fingering"), PUBLISHED_ALTO.items())
def test_alto_fingerings_are_the_published_ones(note: str, fingering: str) -> None:
    assert str(instrument_named("alto").fingering(midi_of_note(note))) == fingering


def test_a_soprano_is_fingered_like_an_alto_a_fifth_lower() -> None:
    alto, soprano = instrument_named("alto"), instrument_named("soprano")
    for midi in alto.notes_midi:
        assert soprano.fingering(midi + 7) == alto.fingering(midi)


@pytest.mark.parametrize(("place", "sign"), SHARPER_OR_FLATTER.items())
def test_alternatives_differ_the_way_that_published_charts_say(
    place: tuple[str, str], sign: int
) -> None:
    note, fingering = place
    entry = instrument_named("alto").chart_note(midi_of_note(note))
    assert entry is not None
    (found,) = [a for a in entry.alternatives if str(a.fingering) == fingering]
    assert found.expected_cents * sign > 0.0


def test_a_soprano_part_is_written_an_octave_below_its_sound() -> None:
    assert instrument_named("soprano").written_midi(midi_of_note("C5")) == midi_of_note("C4")
    assert instrument_named("alto").written_midi(midi_of_note("F4")) == midi_of_note("F4")


def test_notes_beyond_the_chart_have_no_fingering() -> None:
    alto = instrument_named("alto")
    assert alto.fingering(alto.lowest_midi - 1) is None
    assert alto.fingering(alto.highest_midi + 12) is None


@pytest.mark.parametrize(
    ("said", "name"), [("treble", "alto"), ("Descant", "soprano"), ("Great-Bass", "great bass")]
)
def test_british_names_and_other_spellings_are_understood(said: str, name: str) -> None:
    assert instrument_named(said).name == name


def test_an_unknown_instrument_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(SettingsError, match=r"altoo.*alto"):
        instrument_named("altoo")
    with pytest.raises(SettingsError, match=r"garklein, .* or contrabass"):
        instrument_named("hurdy-gurdy")


def test_alternatives_sound_as_far_off_as_the_acoustic_model_says() -> None:
    alto = instrument_named("alto")
    for entry in alto.chart.notes:
        if not entry.alternatives or entry.fingering.bell:
            continue
        every = [entry.fingering, *(a.fingering for a in entry.alternatives)]
        near_hz = [equal_tempered_hz(alto.lowest_midi + entry.step, a4_hz=440.0)] * len(every)
        sounding = playing_frequencies_hz(
            geometry_of("alto"), [f.open_fractions() for f in every], near_hz
        )
        cents = 1200.0 * np.log2(sounding[1:] / sounding[0])
        assert cents == pytest.approx([a.expected_cents for a in entry.alternatives], abs=3.0)
