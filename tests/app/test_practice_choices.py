from collections.abc import Callable

from hypothesis import given
from hypothesis import strategies as st

from intonation.app.choices import Choice
from intonation.app.instrument_shelf import InstrumentShelf
from intonation.app.practice_choices import (
    HIGHEST_DRONE_MIDI,
    LOUDEST_DB,
    LOWEST_DRONE_MIDI,
    SOFTEST_DB,
    louder,
    practice_choices,
)
from intonation.errors import IntonationError
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of

CHOICES = practice_choices(InstrumentShelf())


def choice(name: str) -> Choice[PracticeSettings]:
    return next(one for one in CHOICES if one.name == name)


def entered(name: str, text: str, settings: PracticeSettings | None = None) -> PracticeSettings:
    take = choice(name).entered
    assert take is not None
    return take(settings or PracticeSettings(), text)


@given(st.lists(st.tuples(st.sampled_from(CHOICES), st.integers(-30, 30)), max_size=30))
def test_stepping_through_choices_never_leaves_what_can_be_played(
    steps: list[tuple[Choice[PracticeSettings], int]],
) -> None:
    settings = PracticeSettings()
    for one, count in steps:
        if one.stepped is not None:
            settings = one.stepped(settings, count)
        assert one.shown(settings)
        assert one.explained(settings)
    assert LOWEST_DRONE_MIDI <= settings.drone_midi <= HIGHEST_DRONE_MIDI
    assert SOFTEST_DB <= settings.loudness_db <= LOUDEST_DB
    assert drone_of(settings).frequencies_hz


@given(st.sampled_from(CHOICES), st.text(max_size=12))
def test_whatever_is_typed_is_taken_or_answered_in_a_sentence(
    one: Choice[PracticeSettings], text: str
) -> None:
    if one.entered is not None:
        answer = answered(one.entered, text)
        assert answer is None or answer.endswith((".", "?"))


def answered(entered: Callable[[PracticeSettings, str], PracticeSettings], text: str) -> str | None:
    """Return the sentence that refuses a text, or None where it gave settings that can sound."""
    try:
        settings = entered(PracticeSettings(), text)
    except IntonationError as error:
        return str(error)
    return None if drone_of(settings).frequencies_hz else ""


def test_a_typed_note_without_octave_stays_in_the_drones_octave() -> None:
    assert entered("drone", "Bb", PracticeSettings(drone_midi=53)).drone_midi == 58


def test_a_typed_note_with_octave_sets_both() -> None:
    assert entered("drone", "c3").drone_midi == 48


def test_british_names_of_instruments_are_understood() -> None:
    assert entered("instrument", "treble").instrument == "alto"


def test_any_concert_pitch_of_a_recorder_can_be_typed() -> None:
    assert entered("concert pitch", "441,5 Hz").a4_hz == 441.5


def test_stepping_from_an_unnamed_pitch_goes_to_the_nearest_named_one() -> None:
    step = choice("concert pitch").stepped
    assert step is not None
    assert step(PracticeSettings(a4_hz=441.0), 1).a4_hz == 442.0
    assert step(PracticeSettings(a4_hz=441.0), -1).a4_hz == 440.0


def test_temperaments_are_understood_by_name_and_by_tonic() -> None:
    assert entered("tuning", "Quarter comma meantone").temperament == "quarter-comma-meantone"
    assert entered("tuning", "just-on-F").temperament == "just-on-F"


def test_a_typed_temperature_can_be_forgotten_again() -> None:
    known = entered("room", "19,5 °C")
    assert known.temperature_c == 19.5
    assert entered("room", "", known).temperature_c is None


def test_the_drone_is_never_louder_than_the_ceiling() -> None:
    assert louder(PracticeSettings(loudness_db=-1.0), 3.0).loudness_db == 0.0


def test_the_explanation_of_the_loudness_carries_the_caution() -> None:
    assert "85 dB" in choice("loudness").explained(PracticeSettings())
