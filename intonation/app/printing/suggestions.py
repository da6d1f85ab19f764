"""Before the first note: which notes to hold against the drone, and what to listen for in each."""

from textual.content import Content

from intonation.app import words
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.wrapping import beside
from intonation.assessment.scoring import Target
from intonation.assessment.targets import TargetChoice
from intonation.instruments.instrument import Instrument
from intonation.pitch.notes import note_name
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import tuning_of
from intonation.words.listening import listen_for_target

_CONSONANCES = (0, 7, 5, 4, 3)
"""Semitones over the drone, the easiest to hear first (common practice, no source)."""

_INDENT = 22


def suggestions(settings: PracticeSettings, *, width: int, airy: bool) -> Content:
    """Return the consonances that the instrument can play over the drone, each at its lowest.

    Parameters
    ----------
    settings
        Instrument, drone and tuning.
    width
        Width of the page in characters.
    airy
        Whether there is room for a blank line before each.
    """
    instrument, tuning = settings.recorder, tuning_of(settings)
    drone_midi = settings.drone_midi
    choice = TargetChoice(instrument=instrument, tuning=tuning, reference_midi=drone_midi)
    lines = [Content.styled(words.TO_BEGIN_WITH, STRONG)]
    for semitones in _CONSONANCES:
        target = choice.of_note(_lowest_above(drone_midi + semitones, instrument))
        lines += [Content("")] if airy else []
        lines += _entry(target, tuning.hz(drone_midi), width)
    return Content("\n").join(lines)


def _lowest_above(midi: int, instrument: Instrument) -> int:
    """Return the lowest octave of a note in the instrument's compass, the note's own if it fits."""
    if instrument.lowest_midi <= midi <= instrument.highest_midi:
        return midi
    return instrument.lowest_midi + (midi - instrument.lowest_midi) % 12


def _entry(target: Target, drone_hz: float, width: int) -> list[Content]:
    left = Content.assemble((f"{note_name(target.midi):<5}", STRONG), target.interval or "")
    listen = listen_for_target(target, reference_hz=drone_hz)
    return beside([left], listen, indent=_INDENT, width=width, ink=SOFT)
