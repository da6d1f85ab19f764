"""The one place that imports mido, on demand, with a sentence where it is missing."""

from types import ModuleType

from intonation.errors import SetupError


def mido_library() -> ModuleType:
    """Return the mido module.

    Raises
    ------
    SetupError
        If it is not installed.
    """
    try:
        import mido
    except ImportError:
        raise SetupError(
            "MIDI needs the Python package mido, which is not installed; "
            "everything else works without it.",
            "Install it with: pip install mido",
        ) from None
    module: ModuleType = mido
    return module
