"""Labels and explanations of the screens. Sentences about results stand in `intonation.words`."""

from collections.abc import Sequence

from intonation.app.check_words import ABOUT_CHECK_PAGES
from intonation.app.consort_words import ABOUT_CONSORT_PAGES
from intonation.app.ear_words import ABOUT as ABOUT_EAR
from intonation.app.exercise_words import ABOUT_EXERCISE_PAGES
from intonation.app.first_run_words import ABOUT_SET_UP_PAGES
from intonation.app.habit_words import ABOUT_HABIT_PAGES
from intonation.app.instrument_words import ABOUT_INSTRUMENT_PAGES
from intonation.app.players_words import ABOUT_PLAYERS_PAGES
from intonation.app.print_words import ABOUT_PRINT_PAGES
from intonation.app.today_words import ABOUT_TODAY_PAGES
from intonation.app.trace_words import ABOUT_TRACE_PAGES
from intonation.app.workshop_words import ABOUT_WORKSHOP_PAGES
from intonation.language import name_in_words, say, say_as, say_many
from intonation.pitch.notes import note_name
from intonation.practice.settings import PracticeSettings
from intonation.words.cautions import LOUDNESS
from intonation.words.numbers import rounded
from intonation.words.targets import tuning_in_words

PROGRAM = "intonation"
PRACTICE, TAKE, SUMMARY, SOUND, HELP = (
    say("Practice"),
    say("Take"),
    say("The take"),
    say("Sound"),
    say("Help"),
)
EXERCISES, MELODY_PAGE, MELODY_SUMMARY = say("Exercises"), say("Exercise"), say("The exercise")
TEMPERAMENTS, CONTENTS = say("Temperaments"), say("All pages")

WHAT_HAPPENS = say(
    "Space starts the drone. Listen to it, then hold notes against it, each for two seconds or "
    "more. Nothing moves on the page while you play; when a note ends, it says how it was."
)
DRONE_SOUNDS = say(
    "The drone sounds. Choose voice, tuning and loudness by ear; every change is heard at once. "
    "H quiets it; Space starts a take."
)
PITCH_SHOWN = say(
    "The pitch shows here while a note sounds. R hides it again, which trains the ear."
)

PLAYER = say("The name that your notes are kept under. Press Enter to type another one.")
PURE_TUNING = say(
    "Every interval over the drone is pure: the beats stand still when you are in tune. "
    "The drone itself keeps its equal-tempered pitch."
)
WITH_FIFTH = say("The fifth sounds above the drone: a fuller chord to fit thirds and sixths into.")
WITH_OCTAVE = say("The octave sounds above the drone: easier to hear under a high recorder.")
ROOM = say(
    "Room temperature, if you know it. A recorder rises about 3 cents for each degree, so it "
    "helps to compare one day with another. Type nothing to forget it."
)

NO_TERMINAL = (
    say("The interface needs a terminal to draw on."),
    say("Start it in a terminal window, or in lines with `intonation practise --plain`."),
)
NO_PLAYER_NAME = (say("A player needs a name."), say("Type at least one letter."))

FLAT, SHARP = say("flat"), say("sharp")
NOTES_HEADING = say("  no   note  cents           spread    drift  level   secs    interval")
SUMMARY_HEADING = say("  note    mean         spread times")
TO_BEGIN_WITH = say("To begin with")

COMPASS, TEMPO, PHRASES, ROUNDS = say("Compass"), say("Tempo"), say("Phrases"), say("Rounds")
MELODY, MUSIC_BY = say("Melody"), say("Music")
NOT_HEARD = "–"
WEAR_THEM = say(
    "Best with headphones: through a loudspeaker the microphone hears the backing too. The sound "
    "page says which you use."
)
COUNT_IN = say("The count-in: breathe with it.")
TEMPERAMENT_CAPTION = say("Cents from equal temperament, A = 0")
CENTS, HERTZ = "c", say("Hz")

ABOUT_PAGES = ABOUT_EAR | {
    **ABOUT_WORKSHOP_PAGES,
    **ABOUT_CHECK_PAGES,
    **ABOUT_CONSORT_PAGES,
    **ABOUT_PRINT_PAGES,
    **ABOUT_EXERCISE_PAGES,
    **ABOUT_HABIT_PAGES,
    **ABOUT_TODAY_PAGES,
    **ABOUT_SET_UP_PAGES,
    **ABOUT_TRACE_PAGES,
    **ABOUT_PLAYERS_PAGES,
    **ABOUT_INSTRUMENT_PAGES,
    PRACTICE: say(
        "Choose what to play with. The arrows go from line to line and change the chosen value; "
        "Enter lets you type it. Every choice is remembered."
    ),
    TAKE: say(
        "Hold notes against the drone and listen. After each note its card says how far it was "
        "from its target, how steady it was, and one thing to do."
    ),
    SUMMARY: say("Every note of the take, the worst first, and what to practise next."),
    SOUND: say("Which microphone and output are used, and how the sound is doing."),
    HELP: say("Every key of a page."),
    CONTENTS: say("Every page that there is. Its letter opens it, here and on the practice page."),
    EXERCISES: say(
        "Choose what to play. Wear headphones, so that the microphone hears only you: a backing "
        "that changes with every chord cannot be taken out of what it hears."
    ),
    MELODY_PAGE: say(
        "Play the notes with the backing; breathe at the comma. When a phrase is over, the cents "
        "stand under its notes, and below which notes pulled and where in the chord they stood."
    ),
    MELODY_SUMMARY: say("How the last round was played, and what to practise next."),
    TEMPERAMENTS: say(
        "Cents from equal temperament with the same A. Under the table the marked temperament "
        "exactly, with the frequencies at your concert pitch. Left and right put a wolf elsewhere, "
        "or just intonation on another tonic."
    ),
}

_PITCH_NAMES = {
    392.0: say("French baroque pitch, about a whole tone below 440."),
    415.0: say("Today's baroque pitch, about a semitone below 440."),
    430.0: say("Classical pitch."),
    440.0: say("The standard of ISO 16."),
    442.0: say("Many orchestras' pitch."),
    466.0: say("Venetian and German high pitch, about a semitone above 440."),
}
_OTHER_PITCH = say("Type any pitch from 380 to 480 Hz.")


def concert_pitch(a4_hz: float) -> str:
    """Return a concert pitch as it is printed."""
    return f"A4 = {a4_hz:g} Hz"


def concert_pitch_explained(a4_hz: float) -> str:
    """Return what a concert pitch is known as."""
    return f"{_PITCH_NAMES.get(a4_hz, '')} {_OTHER_PITCH}".strip()


def drone_explained(note: str) -> str:
    """Return what the drone's note is, and how notes are counted."""
    return say(
        "The drone sounds {note} (C4 is middle C). You may type it, for example Bb3.", note=note
    )


def drone_out_of_range(note: str, lowest: str, highest: str) -> tuple[str, str]:
    """Return why a note cannot be the drone, and what to do."""
    return (
        say("{note} is too far from a recorder to tune to.", note=note),
        say("Use {lowest} to {highest}.", lowest=lowest, highest=highest),
    )


def temperature(celsius: float | None) -> str:
    """Return a room temperature as it is printed."""
    return say("not known") if celsius is None else f"{celsius:g} °C"


def temperature_out_of_range(text: str, coldest: float, warmest: float) -> tuple[str, str]:
    """Return why a room temperature is not accepted, and what to do."""
    return (
        say('"{text}" is not the temperature of a room to play in.', text=text),
        say(
            "Give degrees Celsius from {coldest:g} to {warmest:g}, for example 20.",
            coldest=coldest,
            warmest=warmest,
        ),
    )


def loudness(loudness_db: float) -> str:
    """Return the loudness of the reference as it is printed."""
    return say("{loudness_db} dB", loudness_db=rounded(loudness_db))


def loudness_explained() -> str:
    """Return what the number means, and the usual caution."""
    return say("0 dB is the loudest that the drone is ever played. {loudness}", loudness=LOUDNESS)


def yes_or_no(value: bool) -> str:
    """Return yes or no."""
    return say("yes") if value else say("no")


def tuned_to(settings: PracticeSettings, *, keys: tuple[int, ...] | None = None) -> str:
    """Return what a take is played with, in one line; ``keys`` sound in place of the drone."""
    if keys is None:
        reference = say("drone {note}", note=note_name(settings.drone_midi))
    else:
        reference = " ".join([say("keys"), *map(note_name, keys)]) if keys else say("no key sounds")
    return f"{fitted_to(settings)} · {reference}"


def sharp_or_flat(cents: float) -> str:
    """Return the word that stands beside a deviation; none when it rounds to zero."""
    if abs(cents) < 0.05:
        return ""
    return SHARP if cents > 0 else FLAT


def notes_lost(count: int) -> str:
    """Return that notes could not be kept."""
    return say_many("One note could not be kept.", "{count} notes could not be kept.", count=count)


def fitted_to(settings: PracticeSettings) -> str:
    """Return what exercises are fitted to."""
    tuning = tuning_in_words(settings.tuning_name)
    return f"{settings.instrument} · A4 = {settings.a4_hz:g} Hz · {tuning}"


def kind_of_exercise(kind: str) -> str:
    """Return the heading over exercises of a kind."""
    named = name_in_words(kind)
    return f"{named[0].upper()}{named[1:]}".replace("-", " ")


def tempo(beats: float) -> str:
    """Return a tempo as it is printed."""
    return say("{beats:g} beats a minute", beats=beats)


def phrases(one: int | None, count: int) -> str:
    """Return which phrases are played."""
    if one is not None:
        return say("phrase {one} of {count}", one=one + 1, count=count)
    return say("all {count}", count=count) if count > 1 else say_as("a phrase", "one")


def rounds(count: int) -> str:
    """Return how often something is played."""
    return say("{count} in a row", count=count) if count > 1 else say_as("a round", "one")


def sounds_too(with_melody: bool) -> str:
    """Return whether the melody sounds."""
    return say("sounds with the backing") if with_melody else say("yours alone")


def from_to(lowest: str, highest: str) -> str:
    """Return a compass."""
    return say("{lowest} to {highest}", lowest=lowest, highest=highest)


def play_phrase(phrase: int, count: int) -> str:
    """Return which phrase it is time for."""
    if count == 1:
        return say_as("now", "Play")
    return say("Play phrase {phrase} of {count}", phrase=phrase + 1, count=count)


def played_phrase(number: int) -> str:
    """Return the heading over a phrase that was played."""
    return say("Phrase {number}, as you played it", number=number + 1)


def rounds_compared(windows_cents: Sequence[float | None]) -> str:
    """Return how wide the notes lay in each round."""
    widths = ", ".join("–" if one is None else f"{rounded(one)}" for one in windows_cents)
    return say("From flattest to sharpest note, round by round: {widths} cents.", widths=widths)
