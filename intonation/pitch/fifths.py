"""Temperaments as a chain of fifths: where twelve tempered fifths put the twelve pitch classes."""

from collections.abc import Mapping, Sequence

from intonation.pitch.cents import cents_between

PURE_FIFTH_CENTS = cents_between(1.5, target_hz=1.0)
SYNTONIC_COMMA_CENTS = cents_between(81 / 80, target_hz=1.0)
PYTHAGOREAN_COMMA_CENTS = cents_between(531441 / 524288, target_hz=1.0)

FIFTHS = (
    "Eb-Bb", "Bb-F", "F-C", "C-G", "G-D", "D-A", "A-E", "E-B", "B-F#", "F#-C#", "C#-G#", "G#-Eb",
)  # fmt: skip
"""The circle of fifths from E flat. The last one is whatever the other eleven leave over."""

WOLVES = {
    "B-Gb": "Gb",
    "F#-Db": "Db",
    "C#-Ab": "Ab",
    "G#-Eb": "Eb",
    "D#-Bb": "Bb",
    "A#-F": "F",
    "E#-C": "C",
    "B#-G": "G",
}
"""Where the twelfth, unplayable fifth of a regular temperament can lie, and the note at which the
chain of the eleven others then begins."""

_E_FLAT = 3


def cents_of_chain(narrowing_cents: Sequence[float], *, start: int) -> tuple[float, ...]:
    """Return twelve pitch classes in cents above C from eleven fifths.

    Parameters
    ----------
    narrowing_cents
        How much narrower than pure each of the eleven fifths is, lowest of the chain first.
    start
        Pitch class at which the chain begins.
    """
    above_start = [0.0] * 12
    position = 0.0
    for step, narrowing in enumerate(narrowing_cents, start=1):
        position += PURE_FIFTH_CENTS - narrowing
        above_start[(start + 7 * step) % 12] = position
    at_c = above_start[0]
    return tuple((cents - at_c) % 1200.0 for cents in above_start)


def cents_of_circle(narrowing_cents: Mapping[str, float]) -> tuple[float, ...]:
    """Return twelve pitch classes in cents above C; unlisted fifths of the circle are pure.

    Parameters
    ----------
    narrowing_cents
        Narrowing in cents by the fifth's name in `FIFTHS`; the last fifth closes the circle.
    """
    chain = [narrowing_cents.get(fifth, 0.0) for fifth in FIFTHS[:-1]]
    return cents_of_chain(chain, start=_E_FLAT)


def cents_of_regular_chain(narrowing_cents: float, *, start: int = _E_FLAT) -> tuple[float, ...]:
    """Return twelve pitch classes in cents above C from eleven equal fifths and one wolf."""
    return cents_of_chain([narrowing_cents] * 11, start=start)
