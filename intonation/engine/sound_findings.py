"""Puts a sound check into findings: noise, the reference at the microphone, the clocks."""

from intonation.engine.messages import SoundSettings
from intonation.engine.sound_check import CLOCK_LIMIT_PPM, SoundCheck, check_sound
from intonation.errors import IntonationError
from intonation.report.findings import Finding
from intonation.words.numbers import rounded

NOISY_DB = -45.0
"""A room as loud as this hides the end of a soft note (design judgement)."""

MUTED_DB = -95.0
"""No microphone in a room is so quiet: 16 bits reach to −98 dB (design judgement)."""

LOUD_LEAK_DB = -10.0
"""A reference as loud as this at the microphone covers a soft player (design judgement)."""


def found_in_sound(sound: SoundSettings) -> tuple[Finding, ...]:
    """Listen, play the test signal, and return what was found."""
    try:
        check = check_sound(sound)
    except IntonationError as problem:
        return (Finding("sound", problem.sentence, problem.what_to_do),)
    reference = _reference(check, headphones=sound.headphones)
    return (_interruptions(check), _noise(check), reference, _clocks(check))


def _interruptions(check: SoundCheck) -> Finding:
    rate = f"{check.sample_rate_hz:g} Hz"
    if check.gaps == 0:
        return Finding("sound", f"It ran without interruption at {rate}.")
    return Finding(
        "sound",
        f"It was interrupted {check.gaps} times at {rate}.",
        "Close other programs and look again.",
    )


def _noise(check: SoundCheck) -> Finding:
    sentence = f'In silence "{check.microphone}" hears {rounded(check.noise_db)} dB.'
    if check.noise_db < MUTED_DB and check.leak_db is None:
        muted = "It may be muted, or another device: play a note and look at the input level."
        return Finding("room", sentence, muted)
    quiet = check.noise_db < NOISY_DB
    return Finding("room", sentence, "" if quiet else "Look for a fan or a hum, or come closer.")


def _reference(check: SoundCheck, *, headphones: bool) -> Finding:
    if check.leak_db is None:
        sentence = "The microphone does not hear it, which is right with headphones."
        return Finding("reference", sentence)
    delay = "" if check.round_trip_s is None else f", {rounded(1000 * check.round_trip_s)} ms later"
    sentence = (
        f'What "{check.output}" plays reaches the microphone at {rounded(check.leak_db)} dB{delay}.'
    )
    if headphones:
        return Finding(
            "reference",
            f"{sentence} So it does not sound in headphones alone.",
            "Put them on, or say that it is heard through a loudspeaker: then it is taken out.",
        )
    soft = check.leak_db < LOUD_LEAK_DB
    return Finding("reference", sentence, "" if soft else "Turn it down, or use headphones.")


def _clocks(check: SoundCheck) -> Finding:
    if check.clock_ppm is None:
        return Finding("clocks", "They can be compared only where the reference is heard.")
    sentence = f"Microphone and output differ by {rounded(check.clock_ppm, 1)} parts per million."
    if abs(check.clock_ppm) <= CLOCK_LIMIT_PPM:
        return Finding("clocks", sentence)
    return Finding(
        "clocks",
        f"{sentence} That is more than sound clocks ever do: samples are lost on the way.",
        "Choose another device, or set both to 48000 Hz in the system's sound settings.",
    )
