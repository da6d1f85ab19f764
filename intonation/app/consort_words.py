"""Labels and explanations of the consort page."""

from intonation.language import say

CONSORT = say("Consort")
NO_ONE = say(
    "No instrument of a known size is on record yet. Play an instrument check with each of them."
)
TWO_AT_LEAST = say(
    "A consort has two instruments at least. Space lets the marked one play, or not."
)
PLAYING, RESTING = say("plays"), say("rests")
BELIEVE_YOUR_EARS = say(
    "A model of an instrument of each size says what a pull does; play together and listen, and "
    "believe your ears."
)

ABOUT_CONSORT_PAGES = {
    CONSORT: say(
        "The concert pitch and the head-joint pulls that bring the instruments of the record "
        "closest together, and the notes that stay apart. Each needs notes held without a "
        "reference, as the instrument check takes them; whoever is known best on it speaks for it."
    ),
}


def counted_from(a4_hz: float) -> str:
    """Return at which pitch the instruments are taken to have been measured."""
    return say(
        "Taken as measured at A4 = {a4_hz:g} Hz, the concert pitch that is chosen.", a4_hz=a4_hz
    )
