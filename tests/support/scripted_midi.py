"""A MIDI system of our own for the tests, used through mido as any other backend is.

``KEYBOARDS`` are the inputs that exist; ``press`` puts messages where the next look finds them.
"""

from collections import deque
from typing import Any

from mido import Message
from mido.ports import BaseInput

KEYBOARDS: list[str] = []
_PENDING: deque[Message] = deque()
_UNPLUGGED: list[bool] = []


def reset(*names: str) -> None:
    """Begin with these keyboards and nothing pressed."""
    KEYBOARDS[:] = names
    _PENDING.clear()
    _UNPLUGGED.clear()


def press(*messages: Message) -> None:
    """Let these messages arrive."""
    _PENDING.extend(messages)


def unplug() -> None:
    """Take the keyboard away."""
    _UNPLUGGED.append(True)


def get_devices(**_: Any) -> list[dict[str, Any]]:
    """Return the inputs as mido's backends do."""
    return [{"name": name, "is_input": True, "is_output": False} for name in KEYBOARDS]


class Input(BaseInput):
    """An input port fed from ``press``."""

    def _open(self, **_: Any) -> None:
        if self.name not in KEYBOARDS:
            raise OSError(f"unknown port {self.name!r}")

    def _receive(self, block: bool = True) -> None:  # noqa: ARG002 (the port's signature)
        if _UNPLUGGED:
            raise OSError("device gone")
        while _PENDING:
            self._messages.append(_PENDING.popleft())
