"""Before the first note: which notes to hold against the drone, and what to listen for in each."""

from textual.content import Content

from intonation.app import words
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.wrapping import beside
from intonation.instruments.instrument import Instrument
from intonation.instruments.library import instrument_named
from intonation.pitch.intervals import interval_above
from intonation.pitch.notes import note_name
from intonation.practice.settings import PracticeSettings
from intonation.words.listening import listen_for

_CONSONANCES = (0, 7, 5, 4, 3)
"""Semitones over the drone, the easiest to hear first (common practice, no source)."""

_INDENT = 22


def suggestions(settings: PracticeSettings, *, width: int, airy: bool) -> Content:
    """Return the consonances that the instrument can play over the drone, each at its lowest.

    Parameters
    ----------
    settings
        Instrument and drone.
    width
        Width of the page in characters.
    airy
        Whether there is room for a blank line before each.
    """
    instrument = instrument_named(settings.instrument)
    lines = [Content.styled(words.TO_BEGIN_WITH, STRONG)]
    for semitones in _CONSONANCES:
        midi = _lowest_above(settings.drone_midi + semitones, instrument)
        lines += [Content("")] if airy else []
        lines += _entry(midi, settings.drone_midi, width)
    return Content("\n").join(lines)


def _lowest_above(midi: int, instrument: Instrument) -> int:
    """Return the lowest octave of a note in the instrument's compass, the note's own if it fits."""
    if instrument.lowest_midi <= midi <= instrument.highest_midi:
        return midi
    return instrument.lowest_midi + (midi - instrument.lowest_midi) % 12


def _entry(midi: int, drone_midi: int, width: int) -> list[Content]:
    name = interval_above(midi - drone_midi).name
    if name == "unison" and midi != drone_midi:
        name = "octave"
    left = Content.assemble((f"{note_name(midi):<5}", STRONG), name)
    return beside([left], listen_for(name), indent=_INDENT, width=width, ink=SOFT)
