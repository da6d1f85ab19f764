"""Concert pitch: the frequency of A4, by name or in hertz."""

from intonation.errors import SettingsError
from intonation.language import say

LOWEST_A4_HZ, HIGHEST_A4_HZ = 380.0, 480.0

CONCERT_PITCHES: dict[str, float] = {
    "392": 392.0,
    "415": 415.0,
    "430": 430.0,
    "440": 440.0,
    "442": 442.0,
    "466": 466.0,
}
"""A4 in hertz. 440 is ISO 16:1975; the others are common practice, no source: 392 French baroque,
415 today's baroque pitch, 430 classical, 442 many orchestras, 466 Venetian and German high pitch.
"""


def concert_pitch_hz(text: str) -> float:
    """Return A4 in hertz from what a player writes, for example ``"415"`` or ``"441.5 Hz"``.

    Raises
    ------
    SettingsError
        If the text is no number or lies outside 380 to 480 Hz.
    """
    what_to_do = say(
        "Give A4 in hertz from {lowest_a4_hz:.0f} to {highest_a4_hz:.0f}, for example 415.",
        lowest_a4_hz=LOWEST_A4_HZ,
        highest_a4_hz=HIGHEST_A4_HZ,
    )
    try:
        a4_hz = float(text.lower().removesuffix("hz").strip().replace(",", "."))
    except ValueError:
        raise SettingsError(
            say('"{text}" is not a concert pitch.', text=text), what_to_do
        ) from None
    if not LOWEST_A4_HZ <= a4_hz <= HIGHEST_A4_HZ:
        raise SettingsError(
            say("A4 = {a4_hz:g} Hz is outside what a recorder plays.", a4_hz=a4_hz), what_to_do
        )
    return a4_hz
