"""Samples of what would sound: a score's reference, or one sonority, through a synthesiser."""

from collections.abc import Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from intonation.errors import SettingsError
from intonation.exercise.score import LEVELS_DB, ReferenceTone, Score, Sounding
from intonation.language import say
from intonation.synth.tones import Tone

SAMPLE_RATE_HZ = 48_000
LONGEST_S = 1800.0
FADE_OUT_S = 0.5
_BLOCK = 4096


class SoundsTones(Protocol):
    """A synthesiser: the wavetables, or FluidSynth."""

    def set_tones(self, tones: tuple[Tone, ...]) -> None:
        """Sound these tones and no others."""

    def render_into(self, out: NDArray[np.float32]) -> None:
        """Fill a block with the next samples."""


def rendered_score(score: Score, synth: SoundsTones, *, voice: str) -> NDArray[np.float32]:
    """Return a score's whole reference at 48 kHz, every change on its sample.

    Raises
    ------
    SettingsError
        If it is longer than half an hour.
    """
    return _rendered(score.soundings(), synth, voice=voice, duration_s=score.duration_s)


def rendered_tones(
    frequencies_hz: Sequence[float], synth: SoundsTones, *, voice: str, duration_s: float
) -> NDArray[np.float32]:
    """Return some tones sounding together for a time."""
    tones = tuple(
        ReferenceTone(midi=0, hz=hz, start_s=0.0, end_s=duration_s, role="drone")
        for hz in frequencies_hz
    )
    soundings = (Sounding(0.0, tones), Sounding(duration_s, ()))
    return _rendered(soundings, synth, voice=voice, duration_s=duration_s)


def _rendered(
    soundings: Sequence[Sounding], synth: SoundsTones, *, voice: str, duration_s: float
) -> NDArray[np.float32]:
    if not 0 < duration_s <= LONGEST_S:
        raise SettingsError(
            say("{duration_s:.0f} seconds are no length to render.", duration_s=duration_s),
            say(
                "Choose up to {longest_s:.0f} seconds, or one phrase with --phrase.",
                longest_s=LONGEST_S,
            ),
        )
    out = np.zeros(round((duration_s + FADE_OUT_S) * SAMPLE_RATE_HZ), dtype=np.float32)
    starts = [round(sounding.start_s * SAMPLE_RATE_HZ) for sounding in soundings]
    for sounding, start, end in zip(soundings, starts, [*starts[1:], len(out)], strict=True):
        synth.set_tones(_tones(sounding, voice))
        for begin in range(start, end, _BLOCK):
            synth.render_into(out[begin : min(begin + _BLOCK, end)])
    return out


def _tones(sounding: Sounding, voice: str) -> tuple[Tone, ...]:
    """Return the tones to ask for; of several at one frequency only the loudest."""
    levels: dict[float, float] = {}
    for tone in sounding.tones:
        levels[tone.hz] = max(levels.get(tone.hz, -np.inf), LEVELS_DB[tone.role])
    return tuple(Tone(hz, level_db, voice) for hz, level_db in sorted(levels.items()))
