"""What to listen for: how each interval over a drone sounds when it is in tune."""

from fractions import Fraction

from intonation.assessment.bands import Band
from intonation.assessment.scoring import Target
from intonation.language import name_in_words, say
from intonation.pitch.cents import beats_per_second
from intonation.pitch.intervals import interval_above
from intonation.words.numbers import rounded
from intonation.words.targets import tuning_in_words

_WITHOUT_BEAT = frozenset(
    {"minor second", "major second", "augmented fourth", "minor seventh", "major seventh"}
)
_STANDS_STILL_PER_S = 0.05
_TOO_FAST_PER_S = 12.0
"""Slower waves cannot be waited for, faster ones not counted (design judgement: beats turn into
roughness at about 15 to 20 a second; E. Zwicker & H. Fastl, Psychoacoustics; from memory)."""

_LISTEN_FOR: dict[str, str] = {
    "unison": say("The two sounds melt into one. A slow wave in the sound is the distance left."),
    "octave": say(
        "Your note disappears into the drone. Let the wave slow down until it stands still."
    ),
    "fifth": say("Wide open and still. The drone seems to grow an octave below itself."),
    "fourth": say("Open, a little restless until the wave stops. Think of the fifth upside down."),
    "major third": say(
        "Lower than a keyboard's: sweet and calm, with a deep tone humming far below."
    ),
    "minor third": say(
        "Higher than a keyboard's: dark but quiet. Lift it until the beating slows."
    ),
    "major sixth": say(
        "Lower than a keyboard's: broad and warm, a major third turned upside down."
    ),
    "minor sixth": say("Higher than a keyboard's: soft and full once the buzzing clears."),
    "major second": say(
        "It will always rub. Place it by its own ring, a whole tone above the drone."
    ),
    "minor seventh": say(
        "It rubs, yet evenly. Keep it a little high, a fifth over the minor third."
    ),
    "minor second": say("It grinds by nature. Listen for an even, unhurried grinding."),
    "augmented fourth": say("No rest to be found here. Hear it as a pure third over the second."),
    "major seventh": say(
        "A keen rub. Place it a pure third over the fifth, lower than you expect."
    ),
}

_DRONE = say("Listen for the wave between your note and the drone. It slows down as you close in.")

_BANDS: dict[Band, str] = {
    "excellent": say("excellent"),
    "good": say("good"),
    "noticeable": say("to be heard against a drone"),
    "out of tune": say("out of tune"),
}


def listen_for(interval: str | None) -> str:
    """Return what to listen for in an interval over the drone, in at most two short sentences."""
    return _LISTEN_FOR.get(interval or "", _DRONE)


def listen_for_target(target: Target, *, reference_hz: float) -> str:
    """Return what to listen for on the way to a target, its beat included where it has one.

    Parameters
    ----------
    target
        The note over (or under) the reference.
    reference_hz
        Frequency of the reference's own note.
    """
    if target.reference_midi is None or target.interval is None:
        return listen_for(None)
    rate_per_s = _beat_per_s(target, target.reference_midi, reference_hz)
    if target.tuning == "pure" or rate_per_s < _STANDS_STILL_PER_S:
        return listen_for(target.interval)
    place = say(
        "In {tuning} this {interval}",
        tuning=tuning_in_words(target.tuning),
        interval=name_in_words(target.interval),
    )
    if target.interval in _WITHOUT_BEAT:
        return say("{place} rubs by nature. Listen for an even rub.", place=place)
    if rate_per_s > _TOO_FAST_PER_S:
        return say("{place} beats too fast to count.", place=place)
    return say(
        "{place} beats {rate_per_s} times a second. Match that pace.",
        place=place,
        rate_per_s=rounded(rate_per_s, 1),
    )


def _beat_per_s(target: Target, reference_midi: int, reference_hz: float) -> float:
    """Return the beat of the lowest pair of partials that meet in the pure interval."""
    upper_hz, lower_hz = max(target.hz, reference_hz), min(target.hz, reference_hz)
    octaves, semitones = divmod(abs(target.midi - reference_midi), 12)
    ratio = interval_above(semitones).ratio * Fraction(2) ** octaves
    pair = (ratio.numerator, ratio.denominator)
    return beats_per_second(upper_hz, against_hz=lower_hz, ratio=pair)


def band_in_words(band: Band) -> str:
    """Return how good a deviation is, in a word or two."""
    return _BANDS[band]
