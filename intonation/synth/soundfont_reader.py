"""Reads the tables of a player's SoundFont and checks them before any library sees the file."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import IO, NoReturn

from intonation.errors import DataFileError
from intonation.language import say
from intonation.synth.soundfont_format import TABLES, Operator, SampleHeader

_RIFF_HEADER = 12
_CHUNK_HEADER = 8
_LARGEST_TABLE = 16_000_000
_ROM = 0x8000
_SAMPLE_RATES_HZ = range(400, 400_001)


@dataclass(frozen=True, slots=True)
class FontPreset:
    """One preset of a SoundFont."""

    bank: int
    program: int
    name: str


@dataclass(frozen=True, slots=True)
class SoundFontContents:
    """What a SoundFont offers.

    Parameters
    ----------
    presets
        By bank and program.
    samples
        Every sample that the file holds.
    """

    presets: tuple[FontPreset, ...]
    samples: tuple[SampleHeader, ...]


def read_soundfont(path: Path) -> SoundFontContents:
    """Return what a SoundFont offers; its samples themselves stay on the disk.

    Raises
    ------
    DataFileError
        If the file is missing, is no SoundFont, or contradicts itself.
    """
    try:
        with path.open("rb") as file:
            return _FontFile(path.name, file, path.stat().st_size).contents()
    except OSError as cause:
        raise DataFileError(
            say("The SoundFont {path} cannot be opened.", path=path),
            say("Check the name and who may read it."),
        ) from cause


class _FontFile:
    """An open file whose chunks are read one after another."""

    def __init__(self, name: str, file: IO[bytes], size: int) -> None:
        self._name = name
        self._file = file
        self._size = size
        self._tables: dict[bytes, list[tuple[int, ...]]] = {}
        self._sample_frames = 0

    def contents(self) -> SoundFontContents:
        header = self._file.read(_RIFF_HEADER)
        if header[:4] != b"RIFF" or header[8:] != b"sfbk":
            self._refuse(say("it does not begin like one"))
        self._read_lists()
        for tag in TABLES:
            if not self._tables.get(tag):
                self._refuse(say('the table "{tag}" is missing', tag=tag.decode()))
        self._check_order()
        self._check_references()
        samples = tuple(SampleHeader(*record) for record in self._tables[b"shdr"][:-1])  # type: ignore[arg-type]
        for sample in samples:
            self._check_sample(sample)
        return SoundFontContents(self._presets(), samples)

    def _refuse(self, reason: str) -> NoReturn:
        raise DataFileError(
            say("{name} cannot be used as a SoundFont: {reason}.", name=self._name, reason=reason),
            say("Fetch or export the file again, or use the built-in voices."),
        )

    def _read_lists(self) -> None:
        at = _RIFF_HEADER
        while at + _CHUNK_HEADER <= self._size:
            tag, length = self._chunk_at(at)
            if tag == b"LIST":
                self._read_list(at + _CHUNK_HEADER, at + _CHUNK_HEADER + length)
            at += _CHUNK_HEADER + length + length % 2

    def _read_list(self, start: int, end: int) -> None:
        self._file.seek(start)
        kind, at = self._file.read(4), start + 4
        while kind in (b"sdta", b"pdta") and at + _CHUNK_HEADER <= end:
            tag, length = self._chunk_at(at)
            if tag == b"smpl":
                self._sample_frames = length // 2
            elif tag in TABLES:
                self._tables[tag] = self._table(tag, length)
            at += _CHUNK_HEADER + length + length % 2

    def _chunk_at(self, at: int) -> tuple[bytes, int]:
        self._file.seek(at)
        header = self._file.read(_CHUNK_HEADER)
        tag, length = header[:4], int.from_bytes(header[4:], "little")
        if at + _CHUNK_HEADER + length > self._size:
            self._refuse(say("it is cut off"))
        return tag, length

    def _table(self, tag: bytes, length: int) -> list[tuple[int, ...]]:
        record = TABLES[tag]
        if length % record.size or length > _LARGEST_TABLE:
            self._refuse(say('the table "{tag}" has an impossible length', tag=tag.decode()))
        return list(record.iter_unpack(self._file.read(length)))

    def _check_order(self) -> None:
        """Every table points into the next one, never backwards and never past its end."""
        for tag, field, into in (
            (b"phdr", 3, b"pbag"),
            (b"pbag", 0, b"pgen"),
            (b"pbag", 1, b"pmod"),
            (b"inst", 1, b"ibag"),
            (b"ibag", 0, b"igen"),
            (b"ibag", 1, b"imod"),
        ):
            starts = [record[field] for record in self._tables[tag]]
            if not _ascending(starts) or starts[-1] >= len(self._tables[into]):
                self._refuse(
                    say(
                        'the table "{tag}" points past "{into}"',
                        tag=tag.decode(),
                        into=into.decode(),
                    )
                )

    def _check_references(self) -> None:
        for tag, operator, into in (
            (b"pgen", Operator.INSTRUMENT, b"inst"),
            (b"igen", Operator.SAMPLE, b"shdr"),
        ):
            last = len(self._tables[into]) - 1
            if any(kind == operator and number >= last for kind, number in self._tables[tag]):
                self._refuse(
                    say(
                        'the table "{tag}" names something that is not in the file',
                        tag=tag.decode(),
                    )
                )

    def _check_sample(self, sample: SampleHeader) -> None:
        if sample.kind & _ROM:
            return
        name = sample.name.split(b"\0")[0].decode("latin-1")
        looped = sample.loop_end > sample.loop_start
        loop_inside = sample.start <= sample.loop_start and sample.loop_end <= sample.end + 1
        if not sample.start < sample.end <= self._sample_frames or (looped and not loop_inside):
            self._refuse(say('the sample "{name}" lies outside the file', name=name))
        if sample.sample_rate_hz not in _SAMPLE_RATES_HZ:
            self._refuse(
                say(
                    'the sample "{name}" has a rate of {sample_rate_hz} Hz',
                    name=name,
                    sample_rate_hz=sample.sample_rate_hz,
                )
            )

    def _presets(self) -> tuple[FontPreset, ...]:
        presets = (
            FontPreset(record[2], record[1], _text(record[0]))
            for record in self._tables[b"phdr"][:-1]
        )
        return tuple(sorted(presets, key=lambda preset: (preset.bank, preset.program)))


def _ascending(numbers: Sequence[int]) -> bool:
    return all(one <= next_one for one, next_one in pairwise(numbers))


def _text(name: object) -> str:
    return bytes(name).split(b"\0")[0].decode("latin-1").strip()  # type: ignore[call-overload, no-any-return]
