"""Recordings on disk: read any format libsndfile knows as mono blocks, write 32-bit float WAV."""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from intonation.audio.sources import Samples
from intonation.errors import SetupError, SoundFileError
from intonation.install_hints import install_command
from intonation.language import say

BLOCK_FRAMES = 65_536
SILENT_PEAK = 1e-4
"""Recordings that never exceed this (−80 dBFS) hold nothing to score; a 16-bit step is −90 dBFS."""

_CANCELLED_SHARE = 0.25


@dataclass(frozen=True, slots=True)
class RecordingSurvey:
    """What one pass over a recording finds.

    Parameters
    ----------
    sample_rate_hz, frames, channels
        As in the file.
    peak
        Largest magnitude, full scale being 1.
    rms_per_channel
        RMS of each channel.
    rms_of_mean
        RMS of the mean of all channels.
    """

    sample_rate_hz: float
    frames: int
    channels: int
    peak: float
    rms_per_channel: tuple[float, ...]
    rms_of_mean: float

    @property
    def only_channel(self) -> int | None:
        """The one channel to use where mixing would cancel the sound; else None (use the mean)."""
        loudest = max(self.rms_per_channel)
        if self.rms_of_mean >= _CANCELLED_SHARE * loudest:
            return None
        return self.rms_per_channel.index(loudest)


class Recording:
    """A sound file as a source of mono samples.

    Parameters
    ----------
    path
        WAV, FLAC, OGG or anything else that libsndfile reads; any rate, any number of channels.

    Raises
    ------
    SoundFileError
        If the file is missing, is no sound file, is damaged, empty or silent.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.survey = survey(path)
        with _sentences_about(path):
            self._file = _soundfile().SoundFile(path)
        self._left = self.survey.frames

    @property
    def sample_rate_hz(self) -> float:
        """Samples per second."""
        return self.survey.sample_rate_hz

    @property
    def duration_s(self) -> float:
        """Length in seconds."""
        return self.survey.frames / self.survey.sample_rate_hz

    @property
    def exhausted(self) -> bool:
        """Whether the end of the file was reached."""
        return self._left == 0

    def read(self, frames: int) -> Samples:
        """Return the next samples, at most ``frames``; none at the end."""
        wanted = min(frames, self._left)
        with _sentences_about(self.path):
            block = self._file.read(wanted, dtype="float32", always_2d=True)
        self._left = self._left - len(block) if len(block) == wanted else 0
        return _mono(block, only_channel=self.survey.only_channel)

    def close(self) -> None:
        """Close the file."""
        self._left = 0
        self._file.close()


def survey(path: Path) -> RecordingSurvey:
    """Read a recording through once and return its format and levels.

    Raises
    ------
    SoundFileError
        If the file is missing, is no sound file, is damaged, empty or silent.
    """
    if not path.is_file():
        raise SoundFileError(
            say("There is no recording {path}.", path=path), say("Check the name and the folder.")
        )
    with _sentences_about(path), _soundfile().SoundFile(path) as file:
        found = _levels(file)
    if found.frames == 0:
        raise SoundFileError(
            say("{path} holds no sound at all.", path=path.name), say("Record it again.")
        )
    if found.peak < SILENT_PEAK:
        raise SoundFileError(
            say("{path} is silent from beginning to end.", path=path.name),
            say(
                "Check that the right microphone was recorded and its level is up, then record "
                "again."
            ),
        )
    return found


def read_recording(path: Path) -> tuple[Samples, float]:
    """Return all samples of a recording, mono, and its sample rate in hertz.

    Raises
    ------
    SoundFileError
        If the file is missing, is no sound file, is damaged, empty or silent.
    """
    recording = Recording(path)
    try:
        return recording.read(recording.survey.frames), recording.sample_rate_hz
    finally:
        recording.close()


def write_recording(path: Path, samples: Samples, *, sample_rate_hz: float) -> None:
    """Write mono samples as a 32-bit float WAV file, whatever the name's suffix.

    Raises
    ------
    SoundFileError
        If the file cannot be written.
    """
    content = io.BytesIO()
    _soundfile().write(content, samples, round(sample_rate_hz), subtype="FLOAT", format="WAV")
    try:
        # by Python, for libsndfile does not say what stands in the way
        path.write_bytes(content.getvalue())
    except OSError as cause:
        raise SoundFileError(
            say("{path} cannot be written ({reason}).", path=path, reason=cause.strerror),
            say("Check the folder and the space left on the disk."),
        ) from cause


def library_version() -> str:
    """Return the version of libsndfile, which reads and writes sound files here.

    Raises
    ------
    SetupError
        If it is missing.
    """
    return str(_soundfile().__libsndfile_version__)


def _levels(file: Any) -> RecordingSurvey:
    frames, peak, power_of_mean = 0, 0.0, 0.0
    power = np.zeros(file.channels)
    for block in file.blocks(blocksize=BLOCK_FRAMES, dtype="float32", always_2d=True):
        if not np.all(np.isfinite(block)):
            raise SoundFileError(
                say(
                    "{file} is damaged near {seconds:.1f} s.",
                    file=Path(file.name).name,
                    seconds=frames / file.samplerate,
                ),
                say("Cut the recording there or export it again."),
            )
        frames += len(block)
        peak = max(peak, float(np.max(np.abs(block), initial=0.0)))
        power += np.sum(np.square(block, dtype=float), axis=0)
        power_of_mean += float(np.sum(np.square(block.mean(axis=1, dtype=float))))
    count = max(1, frames)
    return RecordingSurvey(
        sample_rate_hz=float(file.samplerate),
        frames=frames,
        channels=file.channels,
        peak=peak,
        rms_per_channel=tuple(float(rms) for rms in np.sqrt(power / count)),
        rms_of_mean=float(np.sqrt(power_of_mean / count)),
    )


def _mono(block: NDArray[np.float32], *, only_channel: int | None) -> Samples:
    if only_channel is not None:
        return np.ascontiguousarray(block[:, only_channel])
    mean: Samples = block.mean(axis=1, dtype=np.float32)
    return mean


def _soundfile() -> ModuleType:
    try:
        import soundfile
    except (ImportError, OSError) as cause:
        raise SetupError(
            say("The library that reads sound files (libsndfile) is missing."),
            say("Install it with: {command}", command=install_command("sndfile")),
        ) from cause
    return soundfile  # type: ignore[no-any-return]


@contextmanager
def _sentences_about(path: Path) -> Iterator[None]:
    """Turn whatever libsndfile and the system say about a file into one sentence of ours."""
    soundfile = _soundfile()
    try:
        yield
    except PermissionError as cause:
        raise SoundFileError(
            say("{path} may not be read.", path=path),
            say("Check who owns the file and the folder."),
        ) from cause
    except (soundfile.SoundFileError, OSError, ValueError, TypeError, RuntimeError) as cause:
        reason = str(cause).removeprefix("Error : ").rstrip(".").split(": ")[-1]
        raise SoundFileError(
            say("{path} cannot be read as a sound file ({reason}).", path=path.name, reason=reason),
            say("Use a WAV, FLAC or OGG file."),
        ) from cause
