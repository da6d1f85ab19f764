"""Which synthesiser sounds the reference, as the player chose it; a plain value to be passed on."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal, get_args

SoundsKind = Literal["built-in", "fluidsynth", "soundfont"]
SOUNDS_KINDS: tuple[SoundsKind, ...] = get_args(SoundsKind)


@dataclass(frozen=True, slots=True)
class PlayersFont:
    """A SoundFont of the player's own, and which of its presets is to sound."""

    path: Path
    program: int = 0
    bank: int = 0


@dataclass(frozen=True, slots=True)
class Sounds:
    """What sounds the reference.

    Parameters
    ----------
    kind
        ``built-in`` for our wavetables, ``fluidsynth`` for FluidSynth with our exact SoundFont,
        ``soundfont`` for FluidSynth with the player's own.
    font
        The player's own SoundFont; kept while another kind sounds, so that one can go back to it.
    """

    kind: SoundsKind = "built-in"
    font: PlayersFont | None = None

    @property
    def own_font(self) -> PlayersFont | None:
        """The player's SoundFont if it is what sounds."""
        return self.font if self.kind == "soundfont" else None


BUILT_IN = Sounds()
