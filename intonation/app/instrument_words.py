"""What the page of one's own instruments says."""

from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name
from intonation.practice.settings import PracticeSettings
from intonation.words.instruments import system_in_words

INSTRUMENTS = say("Instruments")

INSTRUMENT, NAME, SIZE = say("Instrument"), say("Its name"), say("Size")
FINGERING, OWN_PITCH = say("Fingering"), say("Its pitch")
REMARK, ANOTHER = say("Remark"), say("Another")

NAME_EXPLAINED = say(
    "What you call it, for example pearwood alto: the name that its notes are kept under. Enter "
    "lets you type one; until then it is called by its size. Its notes go with it."
)
SIZE_EXPLAINED = say("Which size of recorder it is: that decides its notes.")
FINGERING_EXPLAINED = say(
    "Baroque is the usual one, also called English. German plays the fourth note of the scale (B "
    "flat on an alto, F on a soprano) with fewer fingers. Historic is for some copies of old ones."
)
PITCH_EXPLAINED = say(
    "The concert pitch that it is built for. It is chosen whenever you take the instrument in hand."
)
REMARK_EXPLAINED = say(
    "Whatever you want to remember of it: its maker, its wood, or where it lies."
)
ANOTHER_EXPLAINED = say(
    "Enter, then a name such as school alto 3, or only a size. A comes here from every line."
)
TYPE_A_NAME = say("type its name")
NO_REMARK = "–"
NAMED_BY_SIZE = say("Press I to name it, or to add another.")
CHOSEN_FROM = say("Press I to see all of yours.")
TO_ADD_IT = say("A on the page of instruments (I) adds one.")
YOURS = say("Your instruments")
NONE_YET = say(
    "Each instrument can have a name of its own, so that two of one size are told apart. A adds "
    "another; I on the practice page comes back to them."
)

ABOUT_INSTRUMENT_PAGES = {
    INSTRUMENTS: say(
        "Your own instruments: each has a name, a size, a fingering and a pitch. The arrows on the "
        "first line take another one in hand; the lines below change it; A adds one. Everything "
        "that is kept of your playing is kept under these names."
    ),
}


def instrument_explained(settings: PracticeSettings) -> str:
    """Return what an instrument is, and where the player's own ones are."""
    return f"{instrument_in_words(settings)} {CHOSEN_FROM if settings.size else NAMED_BY_SIZE}"


def instrument_in_words(settings: PracticeSettings) -> str:
    """Return what an instrument is: its size, its fingering and its compass."""
    recorder = settings.recorder
    title = name_in_words(recorder.title)
    return say(
        "{title}, {fingering}: sounds {lowest} to {highest}.",
        title=f"{title[0].upper()}{title[1:]}",
        fingering=system_in_words(settings.fingering_system),
        lowest=note_name(recorder.lowest_midi),
        highest=note_name(recorder.highest_midi),
    )


def pitch_in_words(a4_hz: float | None, *, standard_hz: float) -> str:
    """Return an instrument's own pitch as it is printed."""
    if a4_hz is None:
        return say("{a4_hz} Hz, the standard", a4_hz=f"{standard_hz:g}")
    return say("A4 = {a4_hz} Hz", a4_hz=f"{a4_hz:g}")
