"""Historical temperaments, each built from its definition as a chain of tempered fifths."""

from dataclasses import dataclass

from intonation.errors import SettingsError
from intonation.pitch.cents import cents_between

PURE_FIFTH_CENTS = cents_between(1.5, target_hz=1.0)
SYNTONIC_COMMA_CENTS = cents_between(81 / 80, target_hz=1.0)
PYTHAGOREAN_COMMA_CENTS = cents_between(531441 / 524288, target_hz=1.0)
_A = 9


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


def _chain_of_fifths(narrowing: dict[str, float]) -> tuple[float, ...]:
    """Return cents from C of a closed circle; ``narrowing`` maps fifths like ``"C-G"`` to cents.

    Going up from C to F# and down from C to C#'s neighbour keeps every unlisted fifth pure.
    """
    up = ("C-G", "G-D", "D-A", "A-E", "E-B", "B-F#", "F#-C#", "C#-G#")
    down = ("F-C", "Bb-F", "Eb-Bb")
    cents = [0.0] * 12
    position = 0.0
    for step, fifth in enumerate(up, start=1):
        position += PURE_FIFTH_CENTS - narrowing.get(fifth, 0.0)
        cents[7 * step % 12] = position % 1200.0
    position = 0.0
    for step, fifth in enumerate(down, start=1):
        position -= PURE_FIFTH_CENTS - narrowing.get(fifth, 0.0)
        cents[-7 * step % 12] = position % 1200.0
    return tuple(cents)


_ELEVEN = ("Eb-Bb", "Bb-F", "F-C", "C-G", "G-D", "D-A", "A-E", "E-B", "B-F#", "F#-C#", "C#-G#")


def _regular(narrowing_cents: float) -> tuple[float, ...]:
    return _chain_of_fifths(dict.fromkeys(_ELEVEN, narrowing_cents))


_EQUAL = Temperament(
    "equal",
    "Equal temperament",
    tuple(100.0 * step for step in range(12)),
    "Twelve equal semitones of 100 cents.",
    "MIDI 1.0 Detailed Specification, MIDI Tuning",
)
_QUARTER_COMMA = Temperament(
    "quarter-comma-meantone",
    "Quarter-comma meantone",
    _regular(SYNTONIC_COMMA_CENTS / 4),
    "Eleven fifths E♭–G♯ narrow by a quarter of the syntonic comma; major thirds pure.",
    "J. M. Barbour, Tuning and Temperament (1951), ch. 2; from memory",
)
_VALLOTTI = Temperament(
    "vallotti",
    "Vallotti",
    _chain_of_fifths(
        dict.fromkeys(("F-C", "C-G", "G-D", "D-A", "A-E", "E-B"), PYTHAGOREAN_COMMA_CENTS / 6)
    ),
    "Six fifths F–C–G–D–A–E–B narrow by a sixth of the Pythagorean comma, the others pure.",
    "J. M. Barbour, Tuning and Temperament (1951), ch. 7; from memory",
)

TEMPERAMENTS: dict[str, Temperament] = {t.name: t for t in (_EQUAL, _QUARTER_COMMA, _VALLOTTI)}


def temperament_named(name: str) -> Temperament:
    """Return the built-in temperament of that name.

    Raises
    ------
    SettingsError
        If there is none; the sentence lists those that exist.
    """
    try:
        return TEMPERAMENTS[name]
    except KeyError:
        known = ", ".join(TEMPERAMENTS)
        raise SettingsError(
            f'There is no temperament "{name}".', f"Choose one of {known}."
        ) from None
