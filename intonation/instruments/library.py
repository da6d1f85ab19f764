"""The recorders that ship with the package, by name."""

import tomllib
from difflib import get_close_matches
from functools import cache
from importlib import resources

from intonation.errors import SettingsError
from intonation.instruments.chart import chart_named
from intonation.instruments.instrument import Instrument
from intonation.language import name_in_words, say
from intonation.pitch.notes import midi_of_note

INSTRUMENT_NAMES = (
    "garklein",
    "sopranino",
    "soprano",
    "alto",
    "tenor",
    "bass",
    "great bass",
    "contrabass",
)
"""From the highest to the lowest."""

OTHER_NAMES = {"descant": "soprano", "treble": "alto"}
"""British names (common practice, no source)."""


@cache
def instrument_named(name: str) -> Instrument:
    """Return a recorder by name; spelling in capitals and British names are understood.

    Raises
    ------
    SettingsError
        If there is none; the sentence offers the nearest names.
    """
    wanted = " ".join(name.lower().replace("-", " ").replace("_", " ").split())
    wanted = OTHER_NAMES.get(wanted, wanted)
    if wanted not in INSTRUMENT_NAMES:
        raise SettingsError(say('There is no instrument "{name}".', name=name), _offer(wanted))
    return _read(wanted)


def _offer(wanted: str) -> str:
    near = get_close_matches(wanted, (*INSTRUMENT_NAMES, *OTHER_NAMES))
    names = near or INSTRUMENT_NAMES
    first, last = ", ".join(names[:-1]), names[-1]
    return (
        say("Choose {first} or {last}.", first=first, last=last)
        if first
        else say("Perhaps {last}?", last=last)
    )


def _read(name: str) -> Instrument:
    file_name = f"{name.replace(' ', '_')}.toml"
    path = resources.files("intonation.instruments") / "data" / "instruments" / file_name
    table = tomllib.loads(path.read_text("utf-8"))
    return Instrument(
        name=table["name"],
        size=table["name"],
        title=name_in_words(table["title"]),
        lowest_midi=midi_of_note(table["lowest"]),
        highest_midi=midi_of_note(table["highest"]),
        written_octaves_below=table["written_octaves_below"],
        chart=chart_named(table["chart"]),
        sources=tuple(table["sources"]),
    )
