"""Which system libraries are here; tests that need a missing one say so and are skipped."""

import pytest

from intonation.errors import SetupError
from intonation.synth.fluid_library import FluidLibrary


def _fluidsynth_is_missing() -> bool:
    try:
        FluidLibrary(48_000.0).close()
    except SetupError:
        return True
    return False


def needs_fluidsynth() -> list[pytest.MarkDecorator]:
    """Return the marks of a module whose tests need the FluidSynth library."""
    return [
        pytest.mark.fluidsynth,
        pytest.mark.skipif(_fluidsynth_is_missing(), reason="the FluidSynth library is missing"),
    ]
