"""What to listen for: how each interval over a drone sounds when it is in tune."""

from intonation.assessment.bands import Band

_LISTEN_FOR: dict[str, str] = {
    "unison": "The two sounds melt into one. A slow wave in the sound is the distance left.",
    "octave": "Your note disappears into the drone. Let the wave slow down until it stands still.",
    "fifth": "Wide open and still. The drone seems to grow an octave below itself.",
    "fourth": "Open, a little restless until the wave stops. Think of the fifth upside down.",
    "major third": "Lower than a keyboard's: sweet and calm, with a deep tone humming far below.",
    "minor third": "Higher than a keyboard's: dark but quiet. Lift it until the beating slows.",
    "major sixth": "Lower than a keyboard's: broad and warm, a major third turned upside down.",
    "minor sixth": "Higher than a keyboard's: soft and full once the buzzing clears.",
    "major second": "It will always rub. Place it by its own ring, a whole tone above the drone.",
    "minor seventh": "It rubs, yet evenly. Keep it a little high, a fifth over the minor third.",
    "minor second": "It grinds by nature. Listen for an even, unhurried grinding.",
    "augmented fourth": "No rest to be found here. Hear it as the third of the chord's own fifth.",
    "major seventh": "A keen rub. Place it a pure third over the fifth, lower than you expect.",
}

_DRONE = "Listen for the wave between your note and the drone. It slows down as you close in."

_BANDS: dict[Band, str] = {
    "excellent": "excellent",
    "good": "good",
    "noticeable": "to be heard against a drone",
    "out of tune": "out of tune",
}


def listen_for(interval: str | None) -> str:
    """Return what to listen for in an interval over the drone, in at most two short sentences."""
    return _LISTEN_FOR.get(interval or "", _DRONE)


def band_in_words(band: Band) -> str:
    """Return how good a deviation is, in a word or two."""
    return _BANDS[band]
