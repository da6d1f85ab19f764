"""Waiting for what another thread or process does: until it is so, never for a fixed time."""

import subprocess
import threading
import time
from collections.abc import Callable
from pathlib import Path
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
    if Path("/proc/self").exists():
        stat = Path(f"/proc/{process_id}/stat")
        state = stat.read_text().rsplit(")", 1)[1].split()[0] if stat.exists() else ""
    else:
        command = ["ps", "-o", "stat=", "-p", str(process_id)]
        state = subprocess.run(command, capture_output=True, text=True, check=False).stdout.strip()
    return bool(state) and not state.startswith("Z")
