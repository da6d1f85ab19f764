"""What sounds the reference, between the settings file's plain values and the engine's."""

from dataclasses import replace
from pathlib import Path

from intonation.store.settings import RememberedSettings
from intonation.synth.sounds import SOUNDS_KINDS, PlayersFont, Sounds, SoundsKind


def with_sounds(choices: RememberedSettings, sounds: Sounds) -> RememberedSettings:
    """Return choices that remember these sounds."""
    font = sounds.font
    return replace(
        choices,
        sounds=sounds.kind,
        soundfont=None if font is None else str(font.path),
        soundfont_bank=None if font is None else font.bank,
        soundfont_program=None if font is None else font.program,
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
