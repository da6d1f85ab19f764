"""What is asked of a synthesiser (tones) and what it says it sounds (partials)."""

import math
from dataclasses import dataclass

from intonation.errors import SettingsError
from intonation.language import say

LOWEST_TONE_HZ, HIGHEST_TONE_HZ = 16.0, 8400.0
MOST_TONES = 24


@dataclass(frozen=True, slots=True)
class Tone:
    """One note of the reference.

    Parameters
    ----------
    hz
        Fundamental frequency.
    level_db
        Level relative to the voice's usual level; usually 0 or below.
    voice
        Name of a voice, see `intonation.synth.voices`.
    """

    hz: float
    level_db: float = 0.0
    voice: str = "principal"


@dataclass(frozen=True, slots=True)
class SoundingPartial:
    """One sinusoid of the reference as it leaves the synthesiser.

    Parameters
    ----------
    hz
        Its frequency: exact, not measured.
    level_db
        RMS level in dBFS (a full-scale sine is −3.01 dBFS).
    steady
        Whether its amplitude stays the same while the tone sounds.
    """

    hz: float
    level_db: float
    steady: bool = True


def check_tones(tones: tuple[Tone, ...]) -> None:
    """Raise a `SettingsError` if these tones cannot sound together."""
    if len(tones) > MOST_TONES:
        raise SettingsError(
            say("{count} tones at once are more than the reference can sound.", count=len(tones)),
            say("Ask for at most {most_tones}.", most_tones=MOST_TONES),
        )
    for tone in tones:
        if not (LOWEST_TONE_HZ <= tone.hz <= HIGHEST_TONE_HZ):
            raise SettingsError(
                say("A reference tone of {hz:g} Hz is outside what can be sounded.", hz=tone.hz),
                say(
                    "Choose one from {lowest_tone_hz:g} to {highest_tone_hz:g} Hz.",
                    lowest_tone_hz=LOWEST_TONE_HZ,
                    highest_tone_hz=HIGHEST_TONE_HZ,
                ),
            )
        if not math.isfinite(tone.level_db):
            raise SettingsError(say("A reference tone has no level."), say("Give its level in dB."))
