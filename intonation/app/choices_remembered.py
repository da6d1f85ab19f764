"""What is remembered from one sitting to the next, between the file's plain values and our own."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.engine.messages import SoundSettings
from intonation.store.settings import RememberedSettings
from intonation.synth.sounds import SOUNDS_KINDS, PlayersFont, Sounds, SoundsKind

if TYPE_CHECKING:
    from intonation.practice.ear_choices import EarChoices
    from intonation.practice.settings import PracticeSettings


def with_choices(
    remembered: RememberedSettings,
    *,
    practice: PracticeSettings,
    sound: SoundSettings,
    ear: EarChoices,
) -> RememberedSettings:
    """Return what is remembered, with the player's present choices."""
    font = sound.sounds.font
    return replace(
        remembered,
        practice=practice,
        ear=ear,
        microphone=sound.microphone,
        output=sound.output,
        headphones=sound.headphones,
        keyboard=sound.keyboard,
        step_midi=sound.step_midi,
        sounds=sound.sounds.kind,
        soundfont=None if font is None else str(font.path),
        soundfont_bank=None if font is None else font.bank,
        soundfont_program=None if font is None else font.program,
    )


def sound_of(choices: RememberedSettings, *, asked: SoundSettings) -> SoundSettings:
    """Return what was asked for, with the remembered devices where none was asked for."""
    return replace(
        asked,
        microphone=asked.microphone or choices.microphone,
        output=asked.output or choices.output,
        headphones=asked.headphones or choices.headphones,
        keyboard=asked.keyboard or choices.keyboard,
        step_midi=choices.step_midi,
        sounds=sounds_of(choices),
    )


def sounds_of(choices: RememberedSettings) -> Sounds:
    """Return the sounds that choices remember; without a SoundFont's name the built-in ones."""
    if choices.soundfont is None:
        kind: SoundsKind = "fluidsynth" if choices.sounds == "fluidsynth" else "built-in"
        return Sounds(kind)
    font = PlayersFont(
        Path(choices.soundfont),
        program=choices.soundfont_program or 0,
        bank=choices.soundfont_bank or 0,
    )
    (kind,) = (one for one in SOUNDS_KINDS if one == choices.sounds)
    return Sounds(kind, font)
