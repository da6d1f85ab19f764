"""A player's SoundFont is understood, or refused in one sentence, whatever is wrong with it."""

from pathlib import Path

import numpy as np
import pytest

from intonation.errors import DataFileError
from intonation.synth.soundfont_format import (
    BAG,
    GENERATOR,
    INSTRUMENT,
    MODULATOR,
    MONO_SAMPLE,
    PRESET,
    SAMPLE,
    Operator,
    chunk,
    chunk_list,
)
from intonation.synth.soundfont_reader import FontPreset, read_soundfont
from intonation.synth.soundfont_writer import soundfont
from intonation.synth.voices import VOICES

MUTATIONS = 800


def tiny_font(*, rate_hz: int = 48_000, sample: int = 0, bags: int = 1) -> bytes:
    no_modulator = chunk(b"pmod", MODULATOR.pack(0, 0, 0, 0, 0))
    tables = chunk_list(
        b"pdta",
        chunk(
            b"phdr",
            PRESET.pack(b"Flute", 73, 0, 0, 0, 0, 0) + PRESET.pack(b"", 0, 0, bags, 0, 0, 0),
        ),
        chunk(b"pbag", BAG.pack(0, 0) + BAG.pack(1, 0)),
        no_modulator,
        chunk(b"pgen", GENERATOR.pack(Operator.INSTRUMENT, 0) + GENERATOR.pack(0, 0)),
        chunk(b"inst", INSTRUMENT.pack(b"Flute", 0) + INSTRUMENT.pack(b"", 1)),
        chunk(b"ibag", BAG.pack(0, 0) + BAG.pack(1, 0)),
        chunk(b"imod", MODULATOR.pack(0, 0, 0, 0, 0)),
        chunk(b"igen", GENERATOR.pack(Operator.SAMPLE, sample) + GENERATOR.pack(0, 0)),
        chunk(
            b"shdr",
            SAMPLE.pack(b"Flute C", 0, 90, 10, 80, rate_hz, 60, 0, 0, MONO_SAMPLE)
            + SAMPLE.pack(b"EOS", 0, 0, 0, 0, 0, 0, 0, 0, 0),
        ),
    )
    samples = chunk_list(b"sdta", chunk(b"smpl", bytes(200)))
    return chunk(b"RIFF", b"sfbk" + chunk_list(b"INFO") + samples + tables)


def written(folder: Path, content: bytes) -> Path:
    path = folder / "own.sf2"
    path.write_bytes(content)
    return path


def test_presets_and_samples_are_listed(tmp_path: Path) -> None:
    contents = read_soundfont(written(tmp_path, tiny_font()))
    assert contents.presets == (FontPreset(0, 73, "Flute"),)
    assert contents.samples[0].loop_end == 80


def test_our_own_font_has_every_voice_in_every_bank(tmp_path: Path) -> None:
    presets = read_soundfont(written(tmp_path, soundfont())).presets
    assert [preset.name.split()[0] for preset in presets[:4]] == list(VOICES)
    assert len(presets) % len(VOICES) == 0


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "does not begin like one"),
        (b"This is a letter, not a SoundFont.", "does not begin like one"),
        (tiny_font()[:-40], "cut off"),
        (tiny_font().replace(b"igen", b"ugen"), 'table "igen" is missing'),
        (tiny_font(rate_hz=3), "rate of 3 Hz"),
        (tiny_font(sample=7), "names something that is not in the file"),
        (tiny_font(bags=9), 'points past "pbag"'),
    ],
)
def test_each_fault_gets_its_own_sentence(tmp_path: Path, content: bytes, reason: str) -> None:
    with pytest.raises(DataFileError, match=rf"own\.sf2 cannot be used.*{reason}") as raised:
        read_soundfont(written(tmp_path, content))
    assert "\n" not in str(raised.value)


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(DataFileError, match=r"nothing\.sf2 cannot be opened"):
        read_soundfont(tmp_path / "nothing.sf2")


def test_thousands_of_damaged_files_are_read_or_refused_in_a_sentence(tmp_path: Path) -> None:
    whole, rng, refused = tiny_font(), np.random.default_rng(11), 0
    for _ in range(MUTATIONS):
        content = bytearray(whole)
        for at in rng.integers(0, len(whole), rng.integers(1, 6)):
            content[at] = rng.integers(0, 256)
        if rng.random() < 0.2:
            del content[rng.integers(0, len(whole)) :]
        try:
            read_soundfont(written(tmp_path, bytes(content)))
        except DataFileError:
            refused += 1
    assert MUTATIONS // 4 < refused < MUTATIONS
