"""Words about microphone, output and keyboard, and about how the sound is doing."""

from collections.abc import Sequence

from intonation.engine.messages import SoundCounters
from intonation.language import say
from intonation.words.cautions import HEADPHONES
from intonation.words.numbers import rounded

SOURCES = (
    "microphone",
    "recording",
    "simulated player",
    "simulated alto with two faults",
)
NO_KEYBOARD = say("none")
SYSTEM_CHOICE = say("the system's choice")
SOURCE_EXPLAINED = {
    "microphone": say(
        "The microphone hears you. Step on for a simulated player, or press Enter and type the "
        "name of a sound file to play along without an instrument."
    ),
    "recording": say("A sound file stands in for the microphone. Type another name, or step back."),
    "simulated player": say(
        "An invented player stands in for you, to show what a take is like. Nothing is listened to."
    ),
    "simulated alto with two faults": say(
        "An invented player on an alto that was made badly, to learn check and workshop on: it "
        "answers to work that you say you have done, and nothing can be spoilt."
    ),
}
HEARD_THROUGH = {False: say("loudspeaker"), True: say("headphones")}
HEARD_EXPLAINED = {
    False: say(
        "The microphone hears the drone too, so each take begins with two seconds of the drone "
        "alone, in which it is learned and then taken out."
    ),
    True: say("Best of all: the microphone hears only you. {headphones}", headphones=HEADPHONES),
}
SOUND_NOW = say("The sound now")
SOUND_NOT_RUNNING = say("Not running.")
LISTENING_TO, SOUNDING_ON = say("Listening to"), say("Sounding on")
RATE_AND_LATENCY, INPUT_LEVEL = say("Rate and latency"), say("Input level")
INTERRUPTIONS, TAKEN_OUT = say("Interruptions"), say("Drone taken out by")
_QUIET_DB = -60.0
_LOUD_DB = -6.0


def no_such_recording(name: str) -> tuple[str, str]:
    """Return that a sound file was not found, and what to do."""
    return (
        say('There is no file "{name}".', name=name),
        say("Type the path of a WAV, FLAC or OGG file."),
    )


def devices_found(names: Sequence[str]) -> str:
    """Return which devices there are to step through."""
    if not names:
        return say("None was found besides the system's choice. D searches again.")
    return say("Found: {names}.", names=", ".join(names))


def keyboards_found(names: Sequence[str]) -> str:
    """Return which MIDI keyboards there are, and what one is for."""
    found = (
        say("Found: {names}.", names=", ".join(names))
        if names
        else say("None was found. D searches again.")
    )
    return say(
        "{found} Its keys sound in place of the drone; its pedal acts as Space does.", found=found
    )


def level(level_db: float) -> str:
    """Return an input level with what it means."""
    number = say("{level_db} dBFS", level_db=rounded(level_db))
    if level_db > _LOUD_DB:
        return say(
            "{number}: too loud, turn the microphone down or stand further away", number=number
        )
    return say("{number}: silence", number=number) if level_db < _QUIET_DB else number


def interruptions(counters: SoundCounters) -> str:
    """Return how often the sound was interrupted since it began."""
    count = counters.overflows + counters.underflows
    if not count and not counters.dropped_samples:
        return say("none")
    return say(
        "{count}, {dropped_samples} samples lost",
        count=count,
        dropped_samples=counters.dropped_samples,
    )
