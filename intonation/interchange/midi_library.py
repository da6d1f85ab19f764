"""The one place that imports mido, on demand, with a sentence where it is missing."""

from types import ModuleType

from intonation.errors import SetupError
from intonation.language import say


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
            say(
                "MIDI needs the Python package mido, which is not installed; "
                "everything else works without it."
            ),
            say("Install it with: {command}", command="pip install mido"),
        ) from None
    module: ModuleType = mido
    return module
