"""Measures a SoundFont in a process of its own, which can be stopped at once and may even crash."""

import sys
from collections.abc import Callable
from contextlib import closing

from intonation.engine.apart import asked_apart, question_and_sender
from intonation.engine.channel import Sender
from intonation.errors import DataFileError, IntonationError, SetupError
from intonation.language import say
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
    with closing(asked_apart("intonation.engine.font_check", font)) as answers:
        for answer in answers:
            if isinstance(answer, FontReport):
                return answer
            if isinstance(answer, tuple):
                missing_library, sentence, what_to_do = answer
                raise (SetupError if missing_library else DataFileError)(sentence, what_to_do)
            progress(answer)
    raise DataFileError(
        say("FluidSynth breaks down over {path}.", path=font.path.name),
        say("Fetch or export the file again, or use the built-in voices."),
    )


def main() -> None:
    """Measure the SoundFont that is asked for; answer with progress and report."""
    font, sender = question_and_sender()
    try:
        sender.send(check_font(font, progress=lambda share: _tell(sender, share)))
    except IntonationError as error:
        sender.send((isinstance(error, SetupError), error.sentence, error.what_to_do))


def _tell(sender: Sender, share: float) -> None:
    if not sender.send(share):
        sys.exit(1)
