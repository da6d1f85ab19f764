"""The MIDI Tuning Standard: frequencies as three-byte words, and the message of a whole tuning."""

from collections.abc import Sequence

from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz

UNIT_CENTS = 100.0 / 16384
"""Step of a frequency word: 2**14 in a semitone, 0.0061 cent."""

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
