"""Writes the SoundFont of our own voices: each in 111 banks, a hundredth of a cent apart."""

import math
from collections.abc import Iterable, Sequence
from itertools import accumulate

from intonation.synth.oscillator import PLUCK_FALL_S, PLUCK_RISE_S
from intonation.synth.soundfont_format import (
    BAG,
    GENERATOR,
    INSTRUMENT,
    LOOP,
    MODULATOR,
    MONO_SAMPLE,
    PRESET,
    SAMPLE,
    Operator,
    chunk,
    chunk_list,
)
from intonation.synth.soundfont_tones import (
    BANKS,
    GUARD_SAMPLES,
    KEYS_ABOVE,
    KEYS_BELOW,
    RATE_STEP_HZ,
    ROOT_KEYS,
    SAMPLE_RATE_HZ,
    LoopedTone,
    looped_tone,
)
from intonation.synth.voices import VOICES, Voice

_ATTACK_S, _RELEASE_S = 0.05, 0.25
_SILENCE_CB = 1_000
_OPEN_FILTER_CENTS = 13_500
_ZEROS_AFTER_SAMPLE = 46
"""As many as the specification asks for."""

Zone = list[tuple[int, int]]


def soundfont() -> bytes:
    """Return the whole file: every voice is a preset, in every bank."""
    tones = [looped_tone(voice, key) for voice in VOICES.values() for key in ROOT_KEYS]
    return chunk(b"RIFF", b"sfbk" + _info() + _samples(tones) + _tables(tones))


def _info() -> bytes:
    return chunk_list(
        b"INFO",
        chunk(b"ifil", BAG.pack(2, 4)),
        chunk(b"isng", b"EMU8000\0"),
        chunk(b"INAM", b"Reference voices"),
    )


def _samples(tones: Sequence[LoopedTone]) -> bytes:
    silence = bytes(2 * _ZEROS_AFTER_SAMPLE)
    return chunk_list(
        b"sdta", chunk(b"smpl", b"".join(tone.samples().tobytes() + silence for tone in tones))
    )


def _tables(tones: Sequence[LoopedTone]) -> bytes:
    """Return the nine tables; a preset has one bag, which names the instrument of its number."""
    instruments = [(bank, program) for bank in range(BANKS) for program in range(len(VOICES))]
    zones = [_zones(bank, program) for bank, program in instruments]
    zone_starts = accumulate((len(some) for some in zones), initial=0)
    every_zone = [zone for some in zones for zone in some]
    generator_starts = accumulate((len(zone) for zone in every_zone), initial=0)
    no_modulator = MODULATOR.pack(0, 0, 0, 0, 0)
    return chunk_list(
        b"pdta",
        chunk(b"phdr", _preset_headers(instruments)),
        chunk(b"pbag", _bags(range(len(instruments) + 1))),
        chunk(b"pmod", no_modulator),
        chunk(b"pgen", _generators((Operator.INSTRUMENT, n) for n in range(len(instruments)))),
        chunk(b"inst", _instrument_headers(instruments, zone_starts)),
        chunk(b"ibag", _bags(generator_starts)),
        chunk(b"imod", no_modulator),
        chunk(b"igen", _generators(generator for zone in every_zone for generator in zone)),
        chunk(b"shdr", _sample_headers(tones)),
    )


def _name(bank: int, program: int) -> bytes:
    return f"{tuple(VOICES)[program]} {bank}".encode()


def _preset_headers(instruments: Sequence[tuple[int, int]]) -> bytes:
    headers = [
        PRESET.pack(_name(bank, program), program, bank, number, 0, 0, 0)
        for number, (bank, program) in enumerate(instruments)
    ]
    return b"".join(headers) + PRESET.pack(b"EOP", 0, 0, len(instruments), 0, 0, 0)


def _instrument_headers(
    instruments: Sequence[tuple[int, int]], zone_starts: Iterable[int]
) -> bytes:
    names = [*(_name(*instrument) for instrument in instruments), b"EOI"]
    return b"".join(map(INSTRUMENT.pack, names, zone_starts))


def _bags(starts: Iterable[int]) -> bytes:
    return b"".join(BAG.pack(start, 0) for start in starts)


def _generators(generators: Iterable[tuple[int, int]]) -> bytes:
    return b"".join(GENERATOR.pack(*one) for one in generators) + GENERATOR.pack(0, 0)


def _zones(bank: int, program: int) -> list[Zone]:
    first_sample = (bank * len(VOICES) + program) * len(ROOT_KEYS)
    voice = tuple(VOICES.values())[program]
    return [_envelope(voice), *_key_zones(first_sample)]


def _envelope(voice: Voice) -> Zone:
    release = (Operator.RELEASE, _timecents(_RELEASE_S))
    if voice.plucked_every_s is None:
        return [(Operator.ATTACK, _timecents(_ATTACK_S)), release]
    # a decay time is that of 100 dB; a fall to 1/e is 8.7 dB
    fall_s = PLUCK_FALL_S * 100.0 / (20.0 * math.log10(math.e))
    return [
        (Operator.ATTACK, _timecents(PLUCK_RISE_S)),
        (Operator.DECAY, _timecents(fall_s)),
        (Operator.SUSTAIN, _SILENCE_CB),
        release,
    ]


def _key_zones(first_sample: int) -> list[Zone]:
    return [
        [
            (Operator.KEY_RANGE, (key - KEYS_BELOW) | (key + KEYS_ABOVE) << 8),
            (Operator.FILTER_CUTOFF, _OPEN_FILTER_CENTS),
            (Operator.ROOT_KEY, key),
            (Operator.SAMPLE_MODES, LOOP),
            (Operator.SAMPLE, first_sample + number),
        ]
        for number, key in enumerate(ROOT_KEYS)
    ]


def _sample_headers(tones: Sequence[LoopedTone]) -> bytes:
    lengths = (tone.loop_samples + 2 * GUARD_SAMPLES + _ZEROS_AFTER_SAMPLE for tone in tones)
    starts = list(accumulate(lengths, initial=0))
    headers = [
        _sample_header(tone, start, rate_hz=SAMPLE_RATE_HZ + RATE_STEP_HZ * bank)
        for bank in range(BANKS)
        for tone, start in zip(tones, starts, strict=False)
    ]
    return b"".join(headers) + SAMPLE.pack(b"EOS", 0, 0, 0, 0, 0, 0, 0, 0, 0)


def _sample_header(tone: LoopedTone, start: int, *, rate_hz: int) -> bytes:
    loop_start = start + GUARD_SAMPLES
    loop_end = loop_start + tone.loop_samples
    end = loop_end + GUARD_SAMPLES
    name = f"{tone.voice.name} {tone.root_key}".encode()
    key, correction, link = tone.root_key, 0, 0
    return SAMPLE.pack(
        name, start, end, loop_start, loop_end, rate_hz, key, correction, link, MONO_SAMPLE
    )


def _timecents(seconds: float) -> int:
    return round(1200.0 * math.log2(seconds)) & 0xFFFF
