"""The choices about what sounds the reference; a player's SoundFont is measured first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.app import sounds_words as words
from intonation.app.choices import Choice, neighbour
from intonation.engine.messages import SoundSettings
from intonation.errors import DataFileError
from intonation.synth.sounds import PlayersFont, Sounds, SoundsKind

if TYPE_CHECKING:
    from intonation.synth.soundfont_check import FontReport
    from intonation.synth.soundfont_reader import FontPreset


@dataclass(frozen=True, slots=True, kw_only=True)
class FontKnown:
    """What is known of the player's SoundFont at this moment.

    Parameters
    ----------
    presets
        What it offers; empty without a SoundFont.
    report
        How well the chosen preset is in tune, once that is measured.
    share
        How much of the measurement is done; None while none goes on.
    """

    presets: tuple[FontPreset, ...] = ()
    report: FontReport | None = None
    share: float | None = None


NO_FONT = FontKnown()


def presets_of(path: Path) -> tuple[FontPreset, ...]:
    """Return the presets of a SoundFont that have a pitch.

    Raises
    ------
    DataFileError
        If it cannot be read or has none.
    """
    from intonation.synth.soundfont_reader import read_soundfont

    presets = [one for one in read_soundfont(path).presets if one.bank != words.PERCUSSION_BANK]
    if not presets:
        raise DataFileError(*words.no_presets(path.name))
    return tuple(presets)


def sounds_choices(
    known: FontKnown, *, fluidsynth_trouble: str | None
) -> tuple[Choice[SoundSettings], ...]:
    """Return the line for the sounds and, with a SoundFont, the one for its preset."""
    sounds = Choice(
        name="sounds",
        label=words.SOUNDS,
        shown=_sounds_shown,
        explained=lambda sound: _sounds_explained(sound, known, fluidsynth_trouble),
        stepped=_sounds_stepped,
        entered=_sounds_entered,
    )
    preset = Choice(
        name="preset",
        label=words.PRESET,
        shown=lambda sound: _preset_shown(sound, known),
        explained=lambda sound: _font_explained(sound, known) or words.PRESET_EXPLAINED,
        stepped=lambda sound, steps: _preset_stepped(sound, steps, known),
        entered=lambda sound, text: _preset_entered(sound, text, known),
    )
    return (sounds, preset) if known.presets else (sounds,)


def _sounds_shown(sound: SoundSettings) -> str:
    font = sound.sounds.own_font
    return font.path.name if font else words.NAMES[sound.sounds.kind]


def _sounds_explained(sound: SoundSettings, known: FontKnown, trouble: str | None) -> str:
    if sound.sounds.kind == "built-in":
        return words.BUILT_IN
    if trouble:
        return trouble
    return _font_explained(sound, known) or words.FLUIDSYNTH


def _font_explained(sound: SoundSettings, known: FontKnown) -> str | None:
    """Return how the player's SoundFont was measured, or how far that is; None without one."""
    font = sound.sounds.own_font
    if font is None:
        return None
    if known.share is not None:
        return words.measuring(font.path.name, known.share)
    if known.report is None:
        return words.NOT_MEASURED
    return f"{known.report.sentence} {words.OWN_FONT}"


def _sounds_stepped(sound: SoundSettings, steps: int) -> SoundSettings:
    kinds: tuple[SoundsKind, ...] = ("built-in", "fluidsynth")
    if sound.sounds.font:
        kinds = (*kinds, "soundfont")
    kind = neighbour(kinds, sound.sounds.kind, steps)
    return replace(sound, sounds=replace(sound.sounds, kind=kind))


def _sounds_entered(sound: SoundSettings, text: str) -> SoundSettings:
    wanted = text.strip()
    for kind in ("built-in", "fluidsynth"):
        if wanted.lower() in (kind, words.NAMES[kind].lower()):
            return replace(sound, sounds=replace(sound.sounds, kind=kind))
    path = Path(wanted).expanduser()
    first = presets_of(path)[0]
    font = PlayersFont(path.absolute(), program=first.program, bank=first.bank)
    return replace(sound, sounds=Sounds("soundfont", font))


def _preset_shown(sound: SoundSettings, known: FontKnown) -> str:
    font = sound.sounds.font
    if font is None:
        return ""
    names = [one.name for one in known.presets if _is_of(one, font)]
    return words.preset("".join(names[:1]), font.bank, font.program)


def _preset_stepped(sound: SoundSettings, steps: int, known: FontKnown) -> SoundSettings:
    font = sound.sounds.font
    if font is None:
        return sound
    chosen = next((one for one in known.presets if _is_of(one, font)), known.presets[0])
    return _with_preset(sound, font, neighbour(known.presets, chosen, steps))


def _preset_entered(sound: SoundSettings, text: str, known: FontKnown) -> SoundSettings:
    wanted, font = text.strip().lower(), sound.sounds.font
    if font is None:
        return sound
    for one in known.presets:
        printed = words.preset(one.name, one.bank, one.program).lower()
        if wanted and wanted in (printed.split(" ")[0], one.name.lower()[: len(wanted)]):
            return _with_preset(sound, font, one)
    raise DataFileError(*words.no_such_preset(text.strip(), len(known.presets)))


def _with_preset(sound: SoundSettings, font: PlayersFont, preset: FontPreset) -> SoundSettings:
    chosen = replace(font, bank=preset.bank, program=preset.program)
    return replace(sound, sounds=Sounds("soundfont", chosen))


def _is_of(preset: FontPreset, font: PlayersFont) -> bool:
    return (preset.bank, preset.program) == (font.bank, font.program)
