"""Waiting for what another thread or process does: until it is so, never for a fixed time."""

import os
import threading
import time
from collections.abc import Callable
from typing import TypeVar

from intonation.engine.messages import EngineEvent

PATIENCE_S = 20.0
Kind = TypeVar("Kind")


class Heard:
    """Everything that an engine has said; any thread may wait for something to be said."""

    def __init__(self) -> None:
        self.events: list[EngineEvent] = []
        self._changed = threading.Condition()

    def __call__(self, event: EngineEvent) -> None:
        with self._changed:
            self.events.append(event)
            self._changed.notify_all()

    def of(self, kind: type[Kind]) -> list[Kind]:
        return [event for event in self.events if isinstance(event, kind)]

    def wait_for(self, kind: type, *, count: int = 1, patience_s: float = PATIENCE_S) -> None:
        with self._changed:
            arrived = self._changed.wait_for(lambda: len(self.of(kind)) >= count, patience_s)
        assert arrived, f"{count} {kind.__name__} did not come; last came {self.events[-3:]}"


def until(condition: Callable[[], bool], *, patience_s: float = PATIENCE_S) -> bool:
    """Return whether a condition of another process comes true in time."""
    give_up_s = time.monotonic() + patience_s
    pause = threading.Event()
    while not condition():
        if time.monotonic() > give_up_s:
            return False
        pause.wait(0.02)
    return True


def lives(process_id: int) -> bool:
    """Return whether a process is there and not merely waiting to be buried."""
    try:
        os.kill(process_id, 0)
        with open(f"/proc/{process_id}/stat") as stat:  # noqa: PTH123
            return stat.read().rsplit(")", 1)[1].split()[0] != "Z"
    except (ProcessLookupError, FileNotFoundError):
        return False
