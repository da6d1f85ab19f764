"""The few calls of the FluidSynth library that we need. The one module that imports fluidsynth."""

import contextlib
import ctypes
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from intonation.errors import DataFileError, SetupError
from intonation.install_hints import install_command
from intonation.language import say
from intonation.synth.soundfont_format import Operator
from intonation.synth.soundfont_reader import read_soundfont
from intonation.synth.soundfont_writer import soundfont
from intonation.synth.sounds import PlayersFont
from intonation.synth.tones import SoundingPartial

CHANNELS = 64
"""A set of tones that begins, one that fades, and room to spare."""

LARGEST_BLOCK = 65_536
_VELOCITY = 127
_VOLUME, _EXPRESSION, _FULL = 7, 11, 127
_GAIN = 0.2
_CENTS_AGAINST_ROUNDING = 0.01
_QUIET_LEVELS = (1, 2, 3, 4)
"""FluidSynth's log levels error, warning, information and debug: what matters we say ourselves."""


@dataclass(frozen=True, slots=True)
class Strike:
    """One note as FluidSynth is asked for it.

    Parameters
    ----------
    key
        MIDI note to strike.
    tuning_cents
        What that key is tuned to, in whole cents (6000 is middle C).
    bank, program
        The preset.
    attenuation_db
        By how much it is softened.
    partials
        What then sounds, if known.
    again_every_s
        Seconds after which it is struck again; None for a sound that lasts.
    """

    key: int
    tuning_cents: int
    bank: int
    program: int
    attenuation_db: float = 0.0
    partials: tuple[SoundingPartial, ...] = ()
    again_every_s: float | None = None


class FluidLibrary:
    """One synthesiser of the library; made and used by one thread at a time.

    Parameters
    ----------
    sample_rate_hz
        Rate of the samples it renders.

    Raises
    ------
    SetupError
        If the library is missing.
    """

    def __init__(self, sample_rate_hz: float) -> None:
        self._module = _fluidsynth()
        try:
            self._calls = _declared(self._module)
        except AttributeError as cause:
            raise SetupError(
                say("This FluidSynth library is too old."),
                say("Install version 2 or newer: {command}", command=install_command("fluidsynth")),
            ) from cause
        self._synth: Any = self._module.Synth(
            gain=_GAIN,
            samplerate=sample_rate_hz,
            channels=CHANNELS,
            **{
                "synth.reverb.active": 0,
                "synth.chorus.active": 0,
                "synth.threadsafe-api": 0,
                "synth.polyphony": 4 * CHANNELS,
            },
        )
        self._other_side = np.zeros(LARGEST_BLOCK, dtype=np.float32)

    def load(self, font: PlayersFont | None) -> int:
        """Load a SoundFont and return FluidSynth's number for it.

        Raises
        ------
        DataFileError
            If the player's file is no usable SoundFont or has no such preset.
        """
        if font is None:
            return self._load_own_font()
        presets = {(one.bank, one.program) for one in read_soundfont(font.path).presets}
        if (font.bank, font.program) not in presets:
            raise DataFileError(
                say(
                    "{path} has no preset {program} in bank {bank}.",
                    path=font.path.name,
                    program=font.program,
                    bank=font.bank,
                ),
                say("Choose another one; it has {count}.", count=len(presets)),
            )
        number = int(self._synth.sfload(str(font.path)))
        if number < 0:
            raise DataFileError(
                say("FluidSynth cannot load {path}.", path=font.path.name),
                say("Fetch or export the file again, or use the built-in voices."),
            )
        return number

    def _load_own_font(self) -> int:
        try:
            with _own_font_file() as path:
                return int(self._synth.sfload(str(path)))
        except OSError as fault:
            raise SetupError(
                say(
                    "FluidSynth's voices cannot be written to a temporary file ({strerror}).",
                    strerror=fault.strerror,
                ),
                say("Free some space on the disk, or use the built-in voices."),
            ) from fault

    def note_on(self, channel: int, font_number: int, strike: Strike) -> None:
        """Sound a note on a channel that is free."""
        synth = self._synth
        synth.program_select(channel, font_number, strike.bank, strike.program)
        synth.cc(channel, _VOLUME, _FULL)
        synth.cc(channel, _EXPRESSION, _FULL)
        self._tune(channel, strike)
        self._calls.fluid_synth_set_gen(
            synth.synth, channel, Operator.ATTENUATION, 10.0 * max(0.0, strike.attenuation_db)
        )
        synth.noteon(channel, strike.key, _VELOCITY)

    def _tune(self, channel: int, strike: Strike) -> None:
        cents = [100.0 * key for key in range(128)]
        cents[strike.key] = strike.tuning_cents + _CENTS_AGAINST_ROUNDING
        table = (ctypes.c_double * 128)(*cents)
        name, at_once = b"reference", 0
        self._module.fluid_synth_activate_key_tuning(
            self._synth.synth, 0, channel, name, table, at_once
        )
        self._module.fluid_synth_activate_tuning(self._synth.synth, channel, 0, channel, at_once)

    def note_off(self, channel: int, key: int) -> None:
        """Let a note fade."""
        self._synth.noteoff(channel, key)

    def all_off(self, channel: int) -> None:
        """End a channel's notes at once."""
        self._synth.all_sounds_off(channel)

    def voices_sounding(self) -> int:
        """Return how many voices sound or fade."""
        return int(self._synth.get_active_voice_count())

    def write(self, left: NDArray[np.float32]) -> None:
        """Render into an array; every tone stands in the middle, so that one side is enough."""
        right = self._other_side[: left.size]
        self._calls.fluid_synth_write_float(
            self._synth.synth, left.size, left.ctypes.data, 0, 1, right.ctypes.data, 0, 1
        )

    def close(self) -> None:
        """Free everything."""
        self._synth.delete()


def why_no_fluidsynth() -> str | None:
    """Return the sentence that says why FluidSynth cannot be used; None where it can."""
    try:
        _fluidsynth()
    except SetupError as error:
        return str(error)
    return None


def _fluidsynth() -> ModuleType:
    try:
        # on some build machines pyfluidsynth prints where it found the library
        with contextlib.redirect_stdout(None):
            import fluidsynth
    except (ImportError, OSError) as cause:
        raise SetupError(
            say("The FluidSynth library is missing."),
            say("Install it with: {command}", command=install_command("fluidsynth")),
        ) from cause
    return fluidsynth  # type: ignore[no-any-return]


def _declared(module: ModuleType) -> Any:
    """Return the C library with the calls declared that pyfluidsynth has no name for."""
    calls, number, floats = module._fl, ctypes.c_int, ctypes.c_void_p
    calls.fluid_synth_write_float.argtypes = [
        *(ctypes.c_void_p, number),
        *(floats, number, number),
        *(floats, number, number),
    ]
    calls.fluid_synth_set_gen.argtypes = [ctypes.c_void_p, number, number, ctypes.c_float]
    calls.fluid_set_log_function.argtypes = [number, ctypes.c_void_p, ctypes.c_void_p]
    for level in _QUIET_LEVELS:
        calls.fluid_set_log_function(level, None, None)
    return calls


@contextlib.contextmanager
def _own_font_file() -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "exact.sf2"
        path.write_bytes(soundfont())
        yield path
