"""The records of a SoundFont 2 file, shared by its writer and its reader.

Layout after the *SoundFont Technical Specification*, version 2.04 (Creative Technology, 2006;
from memory): RIFF form ``sfbk`` with the lists INFO, sdta (samples) and pdta (nine tables).
"""

import struct
from typing import NamedTuple

PRESET = struct.Struct("<20sHHHIII")
BAG = struct.Struct("<HH")
MODULATOR = struct.Struct("<HHhHH")
GENERATOR = struct.Struct("<HH")
INSTRUMENT = struct.Struct("<20sH")
SAMPLE = struct.Struct("<20sIIIIIBbHH")

TABLES: dict[bytes, struct.Struct] = {
    b"phdr": PRESET,
    b"pbag": BAG,
    b"pmod": MODULATOR,
    b"pgen": GENERATOR,
    b"inst": INSTRUMENT,
    b"ibag": BAG,
    b"imod": MODULATOR,
    b"igen": GENERATOR,
    b"shdr": SAMPLE,
}
"""The tables of ``pdta`` in their order; the last record of each only marks its end."""


class Operator:
    """Numbers of the generators that we use."""

    FILTER_CUTOFF = 8
    ATTACK = 34
    HOLD = 35
    DECAY = 36
    SUSTAIN = 37
    RELEASE = 38
    INSTRUMENT = 41
    KEY_RANGE = 43
    ATTENUATION = 48
    SAMPLE = 53
    SAMPLE_MODES = 54
    ROOT_KEY = 58


MONO_SAMPLE = 1
LOOP = 1


class SampleHeader(NamedTuple):
    """One record of ``shdr``; positions count samples from the start of ``smpl``."""

    name: bytes
    start: int
    end: int
    loop_start: int
    loop_end: int
    sample_rate_hz: int
    root_key: int
    correction_cents: int
    link: int
    kind: int


def chunk(tag: bytes, content: bytes) -> bytes:
    """Return a RIFF chunk, padded to an even length."""
    return tag + struct.pack("<I", len(content)) + content + b"\0" * (len(content) % 2)


def chunk_list(tag: bytes, *chunks: bytes) -> bytes:
    """Return a RIFF list of chunks."""
    return chunk(b"LIST", tag + b"".join(chunks))
