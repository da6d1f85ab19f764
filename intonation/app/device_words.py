"""Words about microphone, output and keyboard, and about how the sound is doing."""

from collections.abc import Sequence

from intonation.engine.messages import SoundCounters
from intonation.words.cautions import HEADPHONES
from intonation.words.numbers import rounded

SOURCES = ("microphone", "recording", "simulated player")
NO_KEYBOARD = "none"
SYSTEM_CHOICE = "the system's choice"
SOURCE_EXPLAINED = {
    "microphone": (
        "The microphone hears you. Step on for a simulated player, or press Enter and type the "
        "name of a sound file to play along without an instrument."
    ),
    "recording": "A sound file stands in for the microphone. Type another name, or step back.",
    "simulated player": (
        "An invented player stands in for you, to show what a take is like. Nothing is listened to."
    ),
}
HEARD_THROUGH = {False: "loudspeaker", True: "headphones"}
HEARD_EXPLAINED = {
    False: (
        "The microphone hears the drone too, so each take begins with two seconds of the drone "
        "alone, in which it is learned and then taken out."
    ),
    True: f"Best of all: the microphone hears only you. {HEADPHONES}",
}
SOUND_NOW = "The sound now"
SOUND_NOT_RUNNING = "Not running."
LISTENING_TO, SOUNDING_ON = "Listening to", "Sounding on"
RATE_AND_LATENCY, INPUT_LEVEL = "Rate and latency", "Input level"
INTERRUPTIONS, TAKEN_OUT = "Interruptions", "Drone taken out by"
_QUIET_DB = -60.0
_LOUD_DB = -6.0


def no_such_recording(name: str) -> tuple[str, str]:
    """Return that a sound file was not found, and what to do."""
    return (f'There is no file "{name}".', "Type the path of a WAV, FLAC or OGG file.")


def devices_found(names: Sequence[str]) -> str:
    """Return which devices there are to step through."""
    if not names:
        return "None was found besides the system's choice. D searches again."
    return f"Found: {', '.join(names)}."


def keyboards_found(names: Sequence[str]) -> str:
    """Return which MIDI keyboards there are, and what one is for."""
    found = f"Found: {', '.join(names)}." if names else "None was found. D searches again."
    return f"{found} Its keys sound in place of the drone; its pedal acts as Space does."


def level(level_db: float) -> str:
    """Return an input level with what it means."""
    number = f"{rounded(level_db)} dBFS"
    if level_db > _LOUD_DB:
        return f"{number}: too loud, turn the microphone down or stand further away"
    return f"{number}: silence" if level_db < _QUIET_DB else number


def interruptions(counters: SoundCounters) -> str:
    """Return how often the sound was interrupted since it began."""
    count = counters.overflows + counters.underflows
    if not count and not counters.dropped_samples:
        return "none"
    return f"{count}, {counters.dropped_samples} samples lost"
