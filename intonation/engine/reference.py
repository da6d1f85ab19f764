"""The reference that a player chose, or the built-in voices when that one cannot sound."""

from intonation.engine.messages import SoundFault
from intonation.errors import IntonationError
from intonation.language import say
from intonation.synth.fluid_library import Strike
from intonation.synth.sequencer import Sequencer
from intonation.synth.sounds import Sounds
from intonation.synth.wavetable import Chord, Synth

_INSTEAD = say("The built-in voices sound instead.")

Reference = Sequencer[Chord] | Sequencer[tuple[Strike, ...]]


def reference_for(sounds: Sounds, *, sample_rate_hz: float) -> tuple[Reference, SoundFault | None]:
    """Return the reference, and why it is not the one that was asked for, if so.

    Without FluidSynth, or with a SoundFont that cannot be used, the built-in voices sound.
    """
    try:
        return _asked_for(sounds, sample_rate_hz), None
    except IntonationError as error:
        fault = SoundFault(f"{error.sentence} {_INSTEAD}", error.what_to_do, fatal=False)
        return Sequencer(Synth(sample_rate_hz)), fault


def _asked_for(sounds: Sounds, sample_rate_hz: float) -> Reference:
    if sounds.kind == "built-in":
        return Sequencer(Synth(sample_rate_hz))
    from intonation.synth.fluid import FluidSynth

    return Sequencer(FluidSynth(sample_rate_hz, font=sounds.own_font))
