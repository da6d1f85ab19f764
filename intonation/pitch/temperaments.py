"""Historical temperaments, each built from its definition."""

import difflib
from dataclasses import dataclass, replace

from intonation.errors import SettingsError
from intonation.language import say
from intonation.pitch.fifths import (
    PYTHAGOREAN_COMMA_CENTS,
    SYNTONIC_COMMA_CENTS,
    WOLVES,
    cents_of_circle,
    cents_of_regular_chain,
)
from intonation.pitch.intervals import INTERVALS
from intonation.pitch.notes import PITCH_CLASSES, pitch_class_of

_A = 9
_USUAL_WOLF = "G#-Eb"
_BARBOUR = "J. M. Barbour, Tuning and Temperament (1951); from memory"


@dataclass(frozen=True, slots=True)
class Temperament:
    """Twelve pitch classes in cents above C.

    Parameters
    ----------
    name
        Word by which commands and files know it.
    title
        Words for the screen.
    cents_from_c
        Twelve values in cents, C (0.0) first.
    definition, source
        How it is tuned, and where that is published.
    """

    name: str
    title: str
    cents_from_c: tuple[float, ...]
    definition: str
    source: str

    @property
    def cents_from_equal(self) -> tuple[float, ...]:
        """Twelve deviations from equal temperament in cents, C first, with A at zero."""
        at_a = self.cents_from_c[_A] - 100.0 * _A
        return tuple(
            cents - 100.0 * pitch_class - at_a
            for pitch_class, cents in enumerate(self.cents_from_c)
        )


def _just_on(tonic: int) -> tuple[float, ...]:
    """Return cents from C of the 5-limit scale whose ratios are counted from a tonic."""
    above = [INTERVALS[(c - tonic) % 12].pure_cents for c in range(12)]
    return tuple((cents - above[0]) % 1200.0 for cents in above)


_EQUAL = Temperament(
    "equal",
    say("Equal temperament"),
    tuple(100.0 * step for step in range(12)),
    say("Twelve equal semitones of 100 cents."),
    "MIDI 1.0 Detailed Specification, MIDI Tuning",
)
_PYTHAGOREAN = Temperament(
    "pythagorean",
    say("Pythagorean"),
    cents_of_regular_chain(0.0),
    say("Eleven pure fifths E♭–G♯; the fifth G♯–E♭ is narrow by the Pythagorean comma."),
    _BARBOUR,
)
_QUARTER_COMMA = Temperament(
    "quarter-comma-meantone",
    say("Quarter-comma meantone"),
    cents_of_regular_chain(SYNTONIC_COMMA_CENTS / 4),
    say("Eleven fifths E♭–G♯ narrow by a quarter of the syntonic comma; major thirds pure."),
    _BARBOUR,
)
_SIXTH_COMMA = Temperament(
    "sixth-comma-meantone",
    say("Sixth-comma meantone"),
    cents_of_regular_chain(SYNTONIC_COMMA_CENTS / 6),
    say(
        "Eleven fifths E♭–G♯ narrow by a sixth of the syntonic comma; augmented fourths pure "
        "(45/32)."
    ),
    _BARBOUR,
)
_KIRNBERGER = Temperament(
    "kirnberger-3",
    "Kirnberger III",
    cents_of_circle(
        dict.fromkeys(("C-G", "G-D", "D-A", "A-E"), SYNTONIC_COMMA_CENTS / 4)
        | {"F#-C#": PYTHAGOREAN_COMMA_CENTS - SYNTONIC_COMMA_CENTS}
    ),
    say(
        "Four fifths C–G–D–A–E narrow by a quarter of the syntonic comma, F♯–C♯ by the schisma, "
        "the others pure; C–E pure."
    ),
    "J. P. Kirnberger, letter to J. N. Forkel (1779); from memory",
)
_WERCKMEISTER = Temperament(
    "werckmeister-3",
    "Werckmeister III",
    cents_of_circle(dict.fromkeys(("C-G", "G-D", "D-A", "B-F#"), PYTHAGOREAN_COMMA_CENTS / 4)),
    say(
        "The fifths C–G, G–D, D–A and B–F♯ narrow by a quarter of the Pythagorean comma, "
        "the others pure."
    ),
    "A. Werckmeister, Musicalische Temperatur (1691); from memory",
)
_VALLOTTI = Temperament(
    "vallotti",
    "Vallotti",
    cents_of_circle(
        dict.fromkeys(("F-C", "C-G", "G-D", "D-A", "A-E", "E-B"), PYTHAGOREAN_COMMA_CENTS / 6)
    ),
    say("Six fifths F–C–G–D–A–E–B narrow by a sixth of the Pythagorean comma, the others pure."),
    _BARBOUR,
)
_YOUNG_1 = Temperament(
    "young-1",
    "Young I (1799)",
    cents_of_circle(
        dict.fromkeys(("C-G", "G-D", "D-A", "A-E"), SYNTONIC_COMMA_CENTS * 3 / 16)
        | dict.fromkeys(
            ("E-B", "B-F#", "Bb-F", "F-C"),
            (PYTHAGOREAN_COMMA_CENTS - SYNTONIC_COMMA_CENTS * 3 / 4) / 4,
        )
    ),
    say(
        "Four fifths C–G–D–A–E narrow by 3/16 of the syntonic comma; E–B–F♯ and B♭–F–C share the "
        "rest of the Pythagorean comma; the others pure."
    ),
    "T. Young, Outlines of experiments and inquiries, Phil. Trans. 90 (1800) 106; from memory",
)
_YOUNG_2 = Temperament(
    "young-2",
    "Young II (1799)",
    cents_of_circle(
        dict.fromkeys(("C-G", "G-D", "D-A", "A-E", "E-B", "B-F#"), PYTHAGOREAN_COMMA_CENTS / 6)
    ),
    say("Six fifths C–G–D–A–E–B–F♯ narrow by a sixth of the Pythagorean comma, the others pure."),
    "T. Young, Outlines of experiments and inquiries, Phil. Trans. 90 (1800) 106; from memory",
)


def _just_defined(tonic: str) -> str:
    ratios = "16/15 9/8 6/5 5/4 4/3 45/32 3/2 8/5 5/3 9/5 15/8"
    return say("Pure intervals above {tonic}: {ratios}.", tonic=tonic, ratios=ratios)


_JUST = Temperament(
    "just",
    say("Just intonation on {name}", name="C"),
    _just_on(0),
    _just_defined("C"),
    "H. von Helmholtz, On the Sensations of Tone, ch. 10–12; from memory",
)

TEMPERAMENTS: dict[str, Temperament] = {
    temperament.name: temperament
    for temperament in (
        _EQUAL,
        _PYTHAGOREAN,
        _QUARTER_COMMA,
        _SIXTH_COMMA,
        _KIRNBERGER,
        _WERCKMEISTER,
        _VALLOTTI,
        _YOUNG_1,
        _YOUNG_2,
        _JUST,
    )
}

REGULAR_NARROWING_CENTS = {
    "pythagorean": 0.0,
    "quarter-comma-meantone": SYNTONIC_COMMA_CENTS / 4,
    "sixth-comma-meantone": SYNTONIC_COMMA_CENTS / 6,
}
"""Narrowing of each of the eleven fifths in the temperaments that have a wolf, in cents."""


def just_on(tonic: str) -> Temperament:
    """Return 5-limit just intonation counted from any tonic, such as ``"F"``.

    Raises
    ------
    SettingsError
        If the tonic is not the name of a note.
    """
    pitch_class = pitch_class_of(tonic)
    if pitch_class == 0:
        return _JUST
    name = PITCH_CLASSES[pitch_class]
    return replace(
        _JUST,
        name=f"just-on-{name}",
        title=say("Just intonation on {name}", name=name),
        cents_from_c=_just_on(pitch_class),
        definition=_just_defined(name),
    )


def with_wolf(name: str, wolf: str) -> Temperament:
    """Return a regular temperament whose wolf fifth lies elsewhere.

    Parameters
    ----------
    name
        ``"pythagorean"``, ``"quarter-comma-meantone"`` or ``"sixth-comma-meantone"``.
    wolf
        The two notes of the wolf, last and first of the chain, for example ``"C#-Ab"``.

    Raises
    ------
    SettingsError
        If the temperament has no wolf, or no chain of fifths leaves that one.
    """
    if name not in REGULAR_NARROWING_CENTS:
        known = ", ".join(REGULAR_NARROWING_CENTS)
        raise SettingsError(
            say('"{name}" has no wolf fifth to put elsewhere.', name=name),
            say("Only {known} have one.", known=known),
        )
    if wolf not in WOLVES:
        raise SettingsError(
            say('"{wolf}" is not a wolf fifth.', wolf=wolf),
            say("Use one of {wolves}.", wolves=", ".join(WOLVES)),
        )
    plain, start = TEMPERAMENTS[name], WOLVES[wolf]
    if wolf == _USUAL_WOLF:
        return plain
    return replace(
        plain,
        name=f"{name}-wolf-{wolf}",
        title=say("{title}, wolf {wolf}", title=plain.title, wolf=wolf.replace("-", "–")),
        cents_from_c=cents_of_regular_chain(
            REGULAR_NARROWING_CENTS[name], start=pitch_class_of(start)
        ),
        definition=say(
            "As {name}, but the chain of fifths begins at {start}; wolf {wolf}.",
            name=name,
            start=start,
            wolf=wolf,
        ),
    )


def variants_of(name: str) -> tuple[Temperament, ...]:
    """Return a temperament in every place that it can have, its usual one first.

    Just intonation stands on twelve tonics, a temperament with a wolf has it in eight places; any
    other has one place.
    """
    if name == _JUST.name:
        return tuple(just_on(tonic) for tonic in PITCH_CLASSES)
    if name in REGULAR_NARROWING_CENTS:
        wolves = list(WOLVES)
        usual = wolves.index(_USUAL_WOLF)
        return tuple(with_wolf(name, wolf) for wolf in wolves[usual:] + wolves[:usual])
    return (TEMPERAMENTS[name],)


def temperament_named(name: str) -> Temperament:
    """Return a temperament by name.

    Parameters
    ----------
    name
        A name in `TEMPERAMENTS`, or one of two families: ``just-on-F`` puts just intonation on
        another tonic, ``quarter-comma-meantone-wolf-C#-Ab`` the wolf elsewhere.

    Raises
    ------
    SettingsError
        If there is none; the sentence names the nearest, or all that exist.
    """
    if name in TEMPERAMENTS:
        return TEMPERAMENTS[name]
    if name.startswith("just-on-"):
        return just_on(name.removeprefix("just-on-"))
    regular, separator, wolf = name.partition("-wolf-")
    if separator:
        return with_wolf(regular, wolf)
    near = difflib.get_close_matches(name, TEMPERAMENTS, n=1)
    raise SettingsError(
        say('There is no temperament "{name}".', name=name),
        say("Did you mean {near}?", near=near[0])
        if near
        else say("Choose one of {temperaments}.", temperaments=", ".join(TEMPERAMENTS)),
    )
