"""A SoundFont is measured in a process apart: it can be stopped, and a crash harms nobody."""

from pathlib import Path

import pytest

from intonation.engine.apart import asked_apart
from intonation.engine.font_check import measured_font
from intonation.errors import DataFileError
from intonation.synth.soundfont_writer import soundfont
from intonation.synth.sounds import PlayersFont
from tests.support.libraries import needs_fluidsynth

pytestmark = needs_fluidsynth()


class StoppedError(Exception):
    pass


def own_font(folder: Path) -> PlayersFont:
    path = folder / "own.sf2"
    path.write_bytes(soundfont())
    return PlayersFont(path)


def test_it_says_how_far_it_is_and_stops_when_nobody_waits(tmp_path: Path) -> None:
    shares: list[float] = []

    def progress(share: float) -> None:
        shares.append(share)
        if len(shares) == 3:
            raise StoppedError

    with pytest.raises(StoppedError):
        measured_font(own_font(tmp_path), progress=progress)
    assert shares == sorted(shares)
    assert 0.0 < shares[-1] < 1.0


def test_a_font_that_cannot_be_used_is_the_same_sentence_as_without_a_process(
    tmp_path: Path,
) -> None:
    font = own_font(tmp_path)
    font.path.write_bytes(font.path.read_bytes()[:5000])
    with pytest.raises(DataFileError, match=r"own\.sf2 cannot be used as a SoundFont"):
        measured_font(font, progress=lambda _: None)


def test_a_process_that_crashes_ends_the_answers() -> None:
    assert list(asked_apart("tests.engine.test_font_check", "anything")) == []


def main() -> None:
    """Crash as a library might."""
    import os
    import signal

    os.kill(os.getpid(), signal.SIGSEGV)
