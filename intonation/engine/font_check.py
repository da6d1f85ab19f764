"""Measures a SoundFont in a process of its own, which can be stopped at once and may even crash."""

import os
import subprocess
import sys
from collections.abc import Callable

from intonation.engine.channel import Sender, receive
from intonation.engine.process import python_running
from intonation.errors import DataFileError, IntonationError, SetupError
from intonation.synth.soundfont_check import FontReport, check_font
from intonation.synth.sounds import PlayersFont


def measured_font(font: PlayersFont, *, progress: Callable[[float], None]) -> FontReport:
    """Return how well a preset of a SoundFont is in tune.

    Parameters
    ----------
    font
        The SoundFont and its preset.
    progress
        Called with the share that is done; an exception from it stops the measurement.

    Raises
    ------
    SetupError
        If the FluidSynth library is missing.
    DataFileError
        If the SoundFont cannot be used.
    """
    process = subprocess.Popen(
        python_running("intonation.engine.font_check"),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    assert process.stdin is not None
    assert process.stdout is not None
    with process.stdin, process.stdout:
        try:
            Sender(process.stdin).send(font)
            while isinstance(answer := receive(process.stdout), float):
                progress(answer)
        finally:
            process.kill()
            process.wait()
    return _report(answer, font)


def _report(answer: object, font: PlayersFont) -> FontReport:
    if isinstance(answer, FontReport):
        return answer
    if isinstance(answer, tuple):
        missing_library, sentence, what_to_do = answer
        raise (SetupError if missing_library else DataFileError)(sentence, what_to_do)
    raise DataFileError(
        f"FluidSynth breaks down over {font.path.name}.",
        "Fetch or export the file again, or use the built-in voices.",
    )


def main() -> None:
    """Measure the SoundFont that comes on stdin; send progress and report on stdout."""
    sender = Sender(os.fdopen(os.dup(sys.stdout.fileno()), "wb", buffering=0))
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    font = receive(sys.stdin.buffer)
    try:
        sender.send(check_font(font, progress=lambda share: _tell(sender, share)))
    except IntonationError as error:
        sender.send((isinstance(error, SetupError), error.sentence, error.what_to_do))


def _tell(sender: Sender, share: float) -> None:
    if not sender.send(share):
        sys.exit(1)
