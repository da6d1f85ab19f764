"""The real engine without a process of its own: on a thread, as fast as it can hear."""

import queue
import threading
from collections.abc import Callable

from intonation.engine.connections import Connection
from intonation.engine.messages import (
    CloseSound,
    EngineClosed,
    EngineCommand,
    EngineEvent,
    SoundSettings,
)
from intonation.engine.sound_engine import SoundEngine


class InProcessEngine:
    """Answers as `EngineClient` does; a take is over as soon as all of it is heard."""

    def __init__(
        self,
        connect: Callable[[], Connection],
        sound: SoundSettings,
        heard: Callable[[EngineEvent], None],
    ) -> None:
        self._engine = SoundEngine(connect, headphones=sound.headphones)
        self._heard = heard
        self._commands: queue.Queue[EngineCommand] = queue.Queue()
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def send(self, command: EngineCommand) -> None:
        self._commands.put(command)

    def close(self) -> None:
        self.send(CloseSound())
        self._thread.join()

    def _run(self) -> None:
        self._tell(self._engine.open())
        command: EngineCommand | None = None
        while not isinstance(command, CloseSound):
            command = self._commands.get()
            self._tell(self._engine.obey(command))
            while self._engine.in_take and self._commands.empty():
                self._tell(self._engine.listen())
        self._heard(EngineClosed())

    def _tell(self, events: list[EngineEvent]) -> None:
        for event in events:
            self._heard(event)
