"""Puts a sound check into findings: noise, the reference at the microphone, the clocks."""

from intonation.engine.messages import SoundSettings
from intonation.engine.sound_check import CLOCK_LIMIT_PPM, SoundCheck, check_sound
from intonation.errors import IntonationError
from intonation.language import say
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
        return Finding("sound", say("It ran without interruption at {rate}.", rate=rate))
    return Finding(
        "sound",
        say("It was interrupted {gaps} times at {rate}.", gaps=check.gaps, rate=rate),
        say("Close other programs and look again."),
    )


def _noise(check: SoundCheck) -> Finding:
    sentence = say(
        'In silence "{microphone}" hears {noise_db} dB.',
        microphone=check.microphone,
        noise_db=rounded(check.noise_db),
    )
    if check.noise_db < MUTED_DB and check.leak_db is None:
        muted = say("It may be muted, or another device: play a note and look at the input level.")
        return Finding("room", sentence, muted)
    quiet = check.noise_db < NOISY_DB
    return Finding(
        "room", sentence, "" if quiet else say("Look for a fan or a hum, or come closer.")
    )


def _reference(check: SoundCheck, *, headphones: bool) -> Finding:
    if check.leak_db is None:
        sentence = say("The microphone does not hear it, which is right with headphones.")
        return Finding("reference", sentence)
    delay = (
        ""
        if check.round_trip_s is None
        else say(", {round_trip_s} ms later", round_trip_s=rounded(1000 * check.round_trip_s))
    )
    sentence = say(
        'What "{output}" plays reaches the microphone at {leak_db} dB{delay}.',
        output=check.output,
        leak_db=rounded(check.leak_db),
        delay=delay,
    )
    if headphones:
        return Finding(
            "reference",
            say("{sentence} So it does not sound in headphones alone.", sentence=sentence),
            say(
                "Put them on, or say that it is heard through a loudspeaker: then it is taken out."
            ),
        )
    soft = check.leak_db < LOUD_LEAK_DB
    return Finding("reference", sentence, "" if soft else say("Turn it down, or use headphones."))


def _clocks(check: SoundCheck) -> Finding:
    if check.clock_ppm is None:
        return Finding("clocks", say("They can be compared only where the reference is heard."))
    sentence = say(
        "Microphone and output differ by {clock_ppm} parts per million.",
        clock_ppm=rounded(check.clock_ppm, 1),
    )
    if abs(check.clock_ppm) <= CLOCK_LIMIT_PPM:
        return Finding("clocks", sentence)
    return Finding(
        "clocks",
        say(
            "{sentence} That is more than sound clocks ever do: samples are lost on the way.",
            sentence=sentence,
        ),
        say("Choose another device, or set both to 48000 Hz in the system's sound settings."),
    )
