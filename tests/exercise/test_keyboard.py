"""Keys sound in tune, and stay sounding when the hands go back to the recorder."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.exercise.keyboard import (
    MOST_KEYS,
    AllKeysReleased,
    KeyboardEvent,
    KeyboardReference,
    KeyPressed,
    KeyReleased,
    StepAsked,
)
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered

VALLOTTI = tempered(temperament_named("vallotti"), a4_hz=415.0)


def after(*events: KeyboardEvent, latching: bool = True) -> KeyboardReference:
    keyboard = KeyboardReference(latching)
    for event in events:
        keyboard = keyboard.after(event)
    return keyboard


def test_a_latched_chord_sounds_on_until_another_is_struck() -> None:
    struck = (KeyPressed(60), KeyPressed(67), KeyReleased(60), KeyReleased(67))
    assert after(*struck).sounding == (60, 67)
    assert after(*struck, KeyPressed(65)).sounding == (65,)


def test_a_held_chord_sounds_as_long_as_it_is_held() -> None:
    held = after(KeyPressed(60), KeyPressed(67), KeyReleased(60), latching=False)
    assert held.sounding == (67,)
    assert held.after(KeyReleased(67)).sounding == ()


def test_the_pedal_changes_nothing_that_sounds() -> None:
    assert after(KeyPressed(60), StepAsked()) == after(KeyPressed(60))


def test_a_pure_chord_stands_over_its_lowest_key_which_keeps_the_temperament() -> None:
    root, third, fifth = after(KeyPressed(64), KeyPressed(60), KeyPressed(67)).tones(
        tuning=VALLOTTI, is_pure=True
    )
    assert root.hz == pytest.approx(VALLOTTI.hz(60))
    assert third.hz / root.hz == pytest.approx(5 / 4)
    assert fifth.hz / root.hz == pytest.approx(3 / 2)


def test_a_tempered_chord_is_the_temperament() -> None:
    tones = after(KeyPressed(60), KeyPressed(64)).tones(tuning=VALLOTTI, is_pure=False)
    assert [tone.hz for tone in tones] == [VALLOTTI.hz(60), VALLOTTI.hz(64)]


def test_a_played_note_is_measured_over_the_lowest_key() -> None:
    target = after(KeyPressed(60), KeyPressed(64)).target(79, tuning=VALLOTTI, is_pure=True)
    assert (target.interval, target.over_midi, target.origin) == ("fifth", 60, "reference note")
    assert target.hz == pytest.approx(3 * VALLOTTI.hz(60))


def test_in_silence_a_played_note_goes_by_the_temperament() -> None:
    target = KeyboardReference().target(79, tuning=VALLOTTI, is_pure=True)
    assert (target.interval, target.origin) == (None, "temperament")


keys = st.integers(0, 127)
events = st.one_of(
    keys.map(KeyPressed), keys.map(KeyReleased), st.just(StepAsked()), st.just(AllKeysReleased())
)


@given(st.lists(events, max_size=80), st.booleans())
def test_whatever_is_pressed_a_bounded_number_of_keys_sounds_low_to_high(
    pressed: list[KeyboardEvent], latching: bool
) -> None:
    keyboard = after(*pressed, latching=latching)
    assert len(keyboard.sounding) <= MOST_KEYS
    assert list(keyboard.sounding) == sorted(set(keyboard.sounding))
    if not latching:
        assert set(keyboard.sounding) == keyboard.down


@given(st.lists(events, max_size=40), st.booleans())
def test_after_all_keys_are_released_nothing_hangs(
    pressed: list[KeyboardEvent], latching: bool
) -> None:
    keyboard = after(*pressed, AllKeysReleased(), latching=latching)
    assert not keyboard.sounding
    assert not keyboard.down
