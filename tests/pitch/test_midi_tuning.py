"""Tuning words and messages are those of the MIDI Tuning Standard."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.pitch.cents import cents_between
from intonation.pitch.midi_tuning import (
    UNIT_CENTS,
    bulk_dump,
    frequency_word,
)
from intonation.pitch.notes import equal_tempered_hz

# MIDI 1.0 Detailed Specification v96.1, MIDI Tuning, table of frequency words (from memory; the
# spec prints 13289.73 Hz for 7F 7F 7E where exact arithmetic gives 13289.657).
SPECIFIED_HZ = [
    ("00 00 00", 8.1758),
    ("01 00 00", 8.6620),
    ("3C 00 00", 261.6256),
    ("44 7F 7F", 439.9984),
    ("45 00 00", 440.0000),
    ("45 00 01", 440.0016),
    ("78 00 00", 8372.0181),
    ("78 00 01", 8372.0476),
    ("7F 00 00", 12543.8540),
]


def hz_of_word(word: bytes) -> float:
    """Return what a synthesiser takes a word for: a key, and 2**14 parts of a semitone above it."""
    key, high, low = word
    return 440.0 * 2.0 ** ((key + (128 * high + low) / 16384 - 69) / 12)


@pytest.mark.parametrize(("word", "frequency_hz"), SPECIFIED_HZ)
def test_a_word_means_the_frequency_that_the_specification_prints(
    word: str, frequency_hz: float
) -> None:
    # The specification prints four places, some of them truncated from single precision.
    assert hz_of_word(bytes.fromhex(word)) == pytest.approx(frequency_hz, abs=2e-4, rel=1e-7)


@pytest.mark.parametrize(("word", "frequency_hz"), SPECIFIED_HZ)
def test_a_frequency_that_the_specification_prints_has_its_word(
    word: str, frequency_hz: float
) -> None:
    assert frequency_word(hz_of_word(bytes.fromhex(word))) == bytes.fromhex(word)


def test_nothing_is_ever_written_as_the_word_for_no_change() -> None:
    assert frequency_word(20000.0) == bytes.fromhex("7F 7F 7E")


@given(st.floats(8.2, 13289.0))
def test_a_word_is_never_further_off_than_half_its_step(frequency_hz: float) -> None:
    heard_hz = hz_of_word(frequency_word(frequency_hz))
    assert abs(cents_between(heard_hz, target_hz=frequency_hz)) <= UNIT_CENTS / 2 + 1e-9


def test_the_bulk_dump_of_equal_temperament_has_the_length_and_checksum_of_the_standard() -> None:
    keys_hz = [equal_tempered_hz(key, a4_hz=440.0) for key in range(128)]
    dump = bulk_dump("EQUAL", keys_hz)
    assert len(dump) == 408
    assert dump[6:22] == b"EQUAL           "
    # Exclusive-or of everything between F0 and the checksum: TiMidity++ readme.mts.
    assert dump[-2] == 0x64
