"""Events on their way to the interface: the replaceable ones replace each other, none is lost."""

from collections import deque
from threading import Condition

from intonation.engine.messages import EngineEvent, SoundCounters
from intonation.practice.events import PitchRevealed

REPLACEABLE = (PitchRevealed, SoundCounters)
"""Events of which only the latest matters."""


class Mailbox:
    """A queue between the thread that receives and the thread that delivers.

    A slow reader finds at most one of each replaceable kind, the latest; everything else waits
    its turn for as long as it takes.
    """

    def __init__(self) -> None:
        self._events: deque[EngineEvent] = deque()
        self._changed = Condition()

    def put(self, event: EngineEvent) -> None:
        """Add an event, in place of an older one of its kind if it is replaceable."""
        with self._changed:
            if isinstance(event, REPLACEABLE):
                self._drop(type(event))
            self._events.append(event)
            self._changed.notify()

    def take(self, *, timeout_s: float) -> EngineEvent | None:
        """Return the oldest event; None if none comes in time."""
        with self._changed:
            self._changed.wait_for(lambda: self._events, timeout_s)
            return self._events.popleft() if self._events else None

    def _drop(self, kind: type) -> None:
        older = next((event for event in self._events if type(event) is kind), None)
        if older is not None:
            self._events.remove(older)
