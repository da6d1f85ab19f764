"""The MIDI Tuning Standard: frequencies as tuning words, and the messages that carry them."""

from collections.abc import Mapping, Sequence

from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz

UNIT_CENTS = 100.0 / 16384
"""Step of a frequency word: 2**14 in a semitone, 0.0061 cent."""

NO_CHANGE = bytes((0x7F, 0x7F, 0x7F))
ALL_DEVICES = 0x7F
_LOWEST_HZ = equal_tempered_hz(0, a4_hz=440.0)
_LARGEST = 127 * 16384 + 16382  # 7F 7F 7F is reserved for "no change"


def frequency_word(frequency_hz: float) -> bytes:
    """Return the three bytes ``xx yy zz`` nearest to a frequency.

    Parameters
    ----------
    frequency_hz
        From 8.1758 Hz to 13289.7 Hz; anything beyond is set to the nearest end.

    Notes
    -----
    ``xx`` is the equal-tempered key below (A4 = 440 Hz), ``yy`` and ``zz`` the fraction of a
    semitone in 14 bits: MIDI 1.0 Detailed Specification v96.1, MIDI Tuning.
    """
    units = round(cents_between(frequency_hz, target_hz=_LOWEST_HZ) / UNIT_CENTS)
    units = min(max(units, 0), _LARGEST)
    return bytes((units >> 14, units >> 7 & 0x7F, units & 0x7F))


def hz_of_word(word: bytes) -> float | None:
    """Return the frequency in hertz of a three-byte word; None for ``7F 7F 7F``, no change."""
    if word == NO_CHANGE:
        return None
    key, high, low = word
    return equal_tempered_hz(key + (high * 128 + low) / 16384, a4_hz=440.0)


def single_note_change(
    frequencies_hz: Mapping[int, float], *, program: int = 0, device: int = ALL_DEVICES
) -> bytes:
    """Return the real-time single note tuning change, which retunes sounding notes at once.

    Parameters
    ----------
    frequencies_hz
        Frequency by MIDI key.
    program
        Tuning program, 0 to 127.
    device
        Device number; 0x7F addresses all.
    """
    changes = b"".join(bytes((key,)) + frequency_word(hz) for key, hz in frequencies_hz.items())
    head = bytes((0xF0, 0x7F, device, 0x08, 0x02, program, len(frequencies_hz)))
    return head + changes + b"\xf7"


def bulk_dump(
    name: str, frequencies_hz: Sequence[float], *, program: int = 0, device: int = ALL_DEVICES
) -> bytes:
    """Return the bulk tuning dump of all 128 keys, 408 bytes with its checksum.

    Notes
    -----
    The checksum is the exclusive-or of the bytes between ``F0`` and itself: MIDI Tuning Standard.
    """
    title = name.encode("ascii", "replace")[:16].ljust(16)
    words = b"".join(frequency_word(hz) for hz in frequencies_hz)
    body = bytes((0x7E, device, 0x08, 0x01, program)) + title + words
    checksum = 0
    for byte in body:
        checksum ^= byte
    return b"\xf0" + body + bytes((checksum & 0x7F,)) + b"\xf7"


def octave_word(cents: float) -> bytes:
    """Return the two bytes of a scale/octave tuning offset, −100 to +100 cents in 14 bits.

    Notes
    -----
    ``40 00`` is no offset, one unit is 100/8192 cent: MIDI CA-021/RP-020 (from memory).
    """
    units = min(max(round(cents * 8192 / 100) + 8192, 0), 16383)
    return bytes((units >> 7, units & 0x7F))
