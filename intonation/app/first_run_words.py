"""What the pages of the set-up say."""

from intonation.words.cautions import LOUDNESS

SET_UP = "Set-up"

WHO, PITCH, DEVICES, CHECK, READY = "who plays", "pitch", "sound", "sound check", "ready"
STEPS = (WHO, PITCH, DEVICES, CHECK, READY)

INTRODUCED = {
    WHO: (
        "Welcome. Five short pages, under two minutes. Everything has a usual value, which the "
        "arrows change. Space goes on, Esc goes back, and nothing is final."
    ),
    PITCH: "What your instrument is tuned to, and the temperature of the room if you know it.",
    DEVICES: (
        "Put the microphone an arm's length away and leave it there for the whole sitting. "
        "Headphones are best: then the microphone hears only you."
    ),
    CHECK: (
        "Turn the volume down first. C listens to the room for a second, then plays a soft chirp "
        "and a soft tone; keep silent meanwhile. Space goes on without it."
    ),
    READY: "That is all. This is what you have:",
}

CHECKING = "Listening. Please keep silent for five seconds."
CHECK_CAUTION = LOUDNESS
NO_MICROPHONE_NEEDED = (
    "No microphone is listened to, so there is nothing to check. The listening drills (L) and the "
    "exercises sound all the same, and the simulated player shows what a take is like."
)
WITHOUT_MICROPHONE = (
    "Without a microphone the listening drills (L) work all the same; and on the page before, "
    '"Listen to" can be stepped to a simulated player, who shows what a take is like.'
)
LEVEL_NOW, LEVEL_HINT = "Input level", "Play a long note: from −40 to −10 dBFS is right."
LATENCY = "Latency"
NOT_HEARD_YET = "Nothing heard yet"

LABELS = {
    "sound": "Sound",
    "room": "Room",
    "reference": "Reference",
    "clocks": "Clocks",
}
WELL, LOOK = "well", "look"

WHAT_NEXT = (
    ("Space", "closes the set-up. On the practice page it starts a take against the drone."),
    ("Y", "there makes a plan for today."),
    ("L", "trains the ear, without an instrument."),
    ("M", "lists every page; ? explains the one you are on."),
    ("U", "opens this set-up again."),
)

ABOUT_SET_UP_PAGES = {
    SET_UP: (
        "Who plays, what the instrument is tuned to, which microphone and output are used and how "
        "they do. Each page can be skipped with Space and come back to with Esc."
    ),
}


def place(step: str) -> str:
    """Return which page of the set-up this is."""
    return f"{STEPS.index(step) + 1} of {len(STEPS)} · {step}"


def latency(seconds: float) -> str:
    """Return how late the sound comes, by what the devices say of themselves."""
    return f"{1000 * seconds:.0f} ms by what the devices say; a drone can be as late as it likes."
