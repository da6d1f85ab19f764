"""What the pages of the set-up say."""

from intonation.language import name_in_words, say
from intonation.words.cautions import LOUDNESS

SET_UP = say("Set-up")

WHO, PITCH, DEVICES, CHECK, READY = "who plays", "pitch", "sound", "sound check", "ready"
STEPS = (WHO, PITCH, DEVICES, CHECK, READY)

INTRODUCED = {
    WHO: say(
        "Welcome. Five short pages, under two minutes. Everything has a usual value, which the "
        "arrows change. Space goes on, Esc goes back, and nothing is final."
    ),
    PITCH: say("What your instrument is tuned to, and the temperature of the room if you know it."),
    DEVICES: say(
        "Put the microphone an arm's length away and leave it there for the whole sitting. "
        "Headphones are best: then the microphone hears only you."
    ),
    CHECK: say(
        "Turn the volume down first. C listens to the room for a second, then plays a soft chirp "
        "and a soft tone; keep silent meanwhile. Space goes on without it."
    ),
    READY: say("That is all. This is what you have:"),
}

CHECKING = say("Listening. Please keep silent for five seconds.")
CHECK_CAUTION = LOUDNESS
NO_MICROPHONE_NEEDED = say(
    "No microphone is listened to, so there is nothing to check. The listening drills (L) and the "
    "exercises sound all the same, and the simulated player shows what a take is like."
)
WITHOUT_MICROPHONE = say(
    "Without a microphone the listening drills (L) work all the same; and on the page before, "
    '"Listen to" can be stepped to a simulated player, who shows what a take is like.'
)
LEVEL_NOW, LEVEL_HINT = say("Input level"), say("Play a long note: from −40 to −10 dBFS is right.")
LATENCY = say("Latency")
NOT_HEARD_YET = say("Nothing heard yet")

LABELS = {
    "sound": say("Sound"),
    "room": say("Room"),
    "reference": say("Reference"),
    "clocks": say("Clocks"),
}
WELL, LOOK = say("well"), say("look")

WHAT_NEXT = (
    (
        say("Space"),
        say("closes the set-up. On the practice page it starts a take against the drone."),
    ),
    ("Y", say("there makes a plan for today.")),
    ("L", say("trains the ear, without an instrument.")),
    ("M", say("lists every page; ? explains the one you are on.")),
    ("U", say("opens this set-up again.")),
)

ABOUT_SET_UP_PAGES = {
    SET_UP: say(
        "Who plays, what the instrument is tuned to, which microphone and output are used and how "
        "they do. Each page can be skipped with Space and come back to with Esc."
    ),
}


def place(step: str) -> str:
    """Return which page of the set-up this is."""
    return say(
        "{number} of {count} · {step}",
        number=STEPS.index(step) + 1,
        count=len(STEPS),
        step=name_in_words(step),
    )


def latency(seconds: float) -> str:
    """Return how late the sound comes, by what the devices say of themselves."""
    return say(
        "{milliseconds:.0f} ms by what the devices say; a drone can be as late as it likes.",
        milliseconds=1000 * seconds,
    )
