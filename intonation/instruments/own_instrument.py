"""A player's own instrument: a size of recorder with a name, a fingering system and a pitch."""

from dataclasses import dataclass, replace
from functools import cache

from intonation.errors import SettingsError
from intonation.instruments.instrument import Instrument
from intonation.instruments.library import INSTRUMENT_NAMES, OTHER_NAMES, instrument_named
from intonation.instruments.other_systems import SYSTEMS, in_system
from intonation.language import name_in_words, say

LONGEST_NAME = 40
"""So much of a name can be read on the narrowest page (design judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnInstrument:
    """One instrument, known by its name.

    Parameters
    ----------
    name
        The player's own name for it; that of its size where nothing else was chosen.
    size
        Name of its size; None if it is not known, as of a table from another program.
    fingering_system
        One of ``SYSTEMS``.
    a4_hz
        Its own concert pitch; None for the standard one.
    remark
        Whatever its owner wants to remember of it.
    """

    name: str
    size: str | None
    fingering_system: str = SYSTEMS[0]
    a4_hz: float | None = None
    remark: str = ""


def size_that_is_named(name: str) -> str | None:
    """Return the size that a name is the name of, also in British words; None if it is of none."""
    wanted = spaced(name).lower().replace("-", " ").replace("_", " ")
    wanted = OTHER_NAMES.get(wanted, wanted)
    return wanted if wanted in INSTRUMENT_NAMES else None


def size_within(name: str) -> str | None:
    """Return the size that a name speaks of, such as ``"alto"`` in ``"school alto 3"``."""
    words = spaced(name).lower().replace("-", " ").split()
    for known in sorted((*INSTRUMENT_NAMES, *OTHER_NAMES), key=len, reverse=True):
        parts = known.split()
        starts = range(len(words) - len(parts) + 1)
        if any(words[start : start + len(parts)] == parts for start in starts):
            return OTHER_NAMES.get(known, known)
    return None


def spaced(name: str) -> str:
    """Return a name without spaces around it, and with single ones within."""
    return " ".join(name.split())


def recorder(name: str, *, size: str | None, fingering_system: str) -> Instrument:
    """Return an instrument by its own name.

    Parameters
    ----------
    name
        Its own name, or that of a size.
    size
        Its size; None if its name is that of a size.
    fingering_system
        One of ``SYSTEMS``.

    Raises
    ------
    SettingsError
        If its size is not known.
    """
    return _recorder(name, size, fingering_system)


@cache
def _recorder(name: str, size: str | None, fingering_system: str) -> Instrument:
    usual = instrument_named(size or name)
    fingered = usual if fingering_system == SYSTEMS[0] else in_system(usual, fingering_system)
    return fingered if size is None else replace(fingered, name=name)


def checked_name(name: str, *, size: str) -> str:
    """Return a name as it is kept; the name of a size can only be that of an instrument like it.

    Raises
    ------
    SettingsError
        If it is empty, too long, or that of another size.
    """
    plain = spaced(name)
    if not plain:
        raise SettingsError(say("An instrument needs a name."), say("Type at least one letter."))
    if len(plain) > LONGEST_NAME:
        raise SettingsError(
            say("A name may have up to {most} characters.", most=LONGEST_NAME),
            say("Keep what else is to be said for the remark."),
        )
    of_size = size_that_is_named(plain)
    if of_size is None:
        return plain
    if of_size != size:
        raise SettingsError(
            say(
                '"{name}" is the name of a size, but this instrument is of the size {size}.',
                name=plain,
                size=name_in_words(size),
            ),
            say("Call it otherwise, for example my {size}.", size=name_in_words(size)),
        )
    return of_size
