"""The voices of the reference: which partials each has and how strong they are.

Every partial stands at a whole multiple of the fundamental, so that two notes in a pure interval
share partials exactly and a mistuned one beats exactly. The levels are our own, set by ear to make
beats between low partials easy to hear (common practice, no source).
"""

from dataclasses import dataclass
from difflib import get_close_matches

from intonation.errors import SettingsError
from intonation.language import say


@dataclass(frozen=True, slots=True)
class Voice:
    """A steady or a plucked sound made of whole-number partials.

    Parameters
    ----------
    name
        What the player chooses it by.
    description
        What it sounds like and is good for.
    partial_levels_db
        Levels of partials 1, 2, 3 … relative to the first.
    plucked_every_s
        Seconds from one pluck to the next; None for a voice that sounds steadily.
    """

    name: str
    description: str
    partial_levels_db: tuple[float, ...]
    plucked_every_s: float | None = None


def _levels(text: str) -> tuple[float, ...]:
    return tuple(float(level) for level in text.split())


PRINCIPAL = Voice(
    "principal",
    say("An organ principal: clear low partials, so that octaves, fifths and thirds beat audibly."),
    _levels("0 -5 -10 -13 -17 -20 -24 -26 -30 -32 -35 -37 -40 -42 -45 -47"),
)
REED = Voice(
    "reed",
    say("A soft reed: strong partials up to the eighth; the best at showing a third that is off."),
    _levels(
        "0 -3 -5 -6 -8 -10 -12 -14 -17 -19 -21 -24 -26 -28 -31 -33 -35 -38 -40 -42 -44 -46 -48"
    ),
)
STRINGS = Voice(
    "strings",
    say("A string-like sound with a long, even series of partials; blends behind the recorder."),
    _levels(
        "0 -6 -9 -12 -14 -16 -17 -18 -20 -21 -22 -23 -25 -26 -27 -29"
        " -30 -31 -33 -34 -36 -37 -39 -40 -42 -43 -45 -46 -48 -49 -51 -52"
    ),
)
PLUCKED = Voice(
    "plucked",
    say("A plucked string, sounded again every four seconds; leaves room to hear oneself."),
    _levels("0 -4 -7 -12 -14 -18 -22 -26 -27 -30 -33 -36 -38 -41 -44 -46"),
    plucked_every_s=4.0,
)

VOICES: dict[str, Voice] = {voice.name: voice for voice in (PRINCIPAL, REED, STRINGS, PLUCKED)}


def voice_named(name: str) -> Voice:
    """Return the voice of a name.

    Raises
    ------
    SettingsError
        If there is no such voice.
    """
    if name in VOICES:
        return VOICES[name]
    near = get_close_matches(name.lower(), VOICES, n=1)
    suggestion = say("Did you mean {near}? ", near=near[0]) if near else ""
    raise SettingsError(
        say('There is no reference voice "{name}".', name=name),
        say("{suggestion}Choose one of {voices}.", suggestion=suggestion, voices=", ".join(VOICES)),
    )
