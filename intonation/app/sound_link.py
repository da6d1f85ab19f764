"""The sound engine as the interface sees it: opened in the background, ready for commands."""

import threading
from collections.abc import Callable
from typing import Protocol

from intonation.engine.messages import (
    EngineClosed,
    EngineCommand,
    EngineEvent,
    SoundFault,
    SoundSettings,
)
from intonation.errors import IntonationError

Heard = Callable[[EngineEvent], None]


class SoundEngine(Protocol):
    """What the interface needs of an engine, whichever process it runs in."""

    def send(self, command: EngineCommand, /) -> object:
        """Pass a command on; must not block."""

    def close(self) -> None:
        """Fade out and end."""


Connect = Callable[[SoundSettings, Heard], SoundEngine]
"""Starts an engine; what it says is heard on a thread of its own."""


class SoundLink:
    """One engine at a time; commands sent before it listens are kept for it.

    Parameters
    ----------
    connect
        Starts an engine.
    heard
        Called with every event of the present engine, on the engine's own thread.
    """

    def __init__(self, connect: Connect, heard: Heard) -> None:
        self._connect = connect
        self._heard = heard
        self._lock = threading.RLock()
        self._engine: SoundEngine | None = None
        self._waiting: list[EngineCommand] = []
        self._opened = 0
        self._closed = False

    def open(self, sound: SoundSettings) -> None:
        """Start an engine in place of the present one; takes a moment, so call it on a thread."""
        self._end_engine()
        number = self._opened
        try:
            engine = self._connect(sound, lambda event: self._hear(event, number))
        except IntonationError as error:
            self._give_up(error)
            return
        with self._lock:
            if not self._closed and number == self._opened:
                self._listen_to_waiting(engine)
                return
        engine.close()

    def send(self, command: EngineCommand) -> None:
        """Pass a command to the engine, now or as soon as it listens."""
        with self._lock:
            if self._engine is None:
                self._waiting.append(command)
            else:
                self._engine.send(command)

    def end(self) -> None:
        """End the engine until `open` starts another; takes a moment, so call it on a thread."""
        self._end_engine()

    def close(self) -> None:
        """End the engine for good."""
        self._closed = True
        self._end_engine()

    def _give_up(self, error: IntonationError) -> None:
        with self._lock:
            self._waiting.clear()
        self._heard(SoundFault(error.sentence, error.what_to_do, fatal=True))
        self._heard(EngineClosed())

    def _listen_to_waiting(self, engine: SoundEngine) -> None:
        self._engine = engine
        waiting, self._waiting = self._waiting, []
        for command in waiting:
            engine.send(command)

    def _hear(self, event: EngineEvent, number: int) -> None:
        """Pass an event on, unless its engine has been replaced."""
        with self._lock:
            if number != self._opened:
                return
            if isinstance(event, EngineClosed):
                self._engine = None
        self._heard(event)

    def _end_engine(self) -> None:
        with self._lock:
            engine, self._engine = self._engine, None
            self._opened += 1
        if engine is not None:
            engine.close()
