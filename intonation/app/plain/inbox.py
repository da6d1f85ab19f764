"""Typed lines and events of the sound, in the one order in which they came."""

import threading
from collections.abc import Iterable
from dataclasses import dataclass
from queue import SimpleQueue

from intonation.engine.messages import EngineEvent


@dataclass(frozen=True, slots=True)
class Typed:
    """A line that was typed, without the blanks around it; None when no more can come."""

    line: str | None


class Inbox:
    """Where both arrive; whoever takes the next one waits for it."""

    def __init__(self) -> None:
        self._queue: SimpleQueue[Typed | EngineEvent] = SimpleQueue()

    def put(self, arrived: Typed | EngineEvent) -> None:
        """Add what arrived; may be called from any thread."""
        self._queue.put(arrived)

    def next(self) -> Typed | EngineEvent:
        """Return what arrived next."""
        return self._queue.get()

    def read(self, lines: Iterable[str]) -> None:
        """Take in lines as they are typed, on a thread of its own."""
        threading.Thread(target=self._read, args=(lines,), name="typed lines", daemon=True).start()

    def _read(self, lines: Iterable[str]) -> None:
        for line in lines:
            self.put(Typed(line.strip()))
        self.put(Typed(None))
