"""The interface's end of the sound engine: starts its process, sends commands, delivers events.

The engine has an interpreter of its own because a busy interface in the same one makes the sound
callbacks late, which is heard as clicks.
"""

import contextlib
import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import IO, Any

from intonation.engine.channel import Sender, receive
from intonation.engine.mailbox import Mailbox
from intonation.engine.messages import (
    CloseSound,
    EngineClosed,
    EngineCommand,
    EngineEvent,
    SoundFault,
    SoundSettings,
)
from intonation.language import say

SILENT_S = 3.0
"""The engine reports ten times a second; if it says nothing for this long it hangs."""

CLOSE_S = 2.0


def python_running(module: str) -> list[str]:
    """Return the command that runs the ``main`` of a module of ours in an interpreter of its own.

    The interpreter looks for modules where this one does, and nowhere else.
    """
    paths = "import json, sys; sys.path[:] = json.loads(sys.argv[1])"
    speak = "from intonation.languages.choice import speak_as_chosen; speak_as_chosen()"
    code = f"{paths}; {speak}; import {module} as module; module.main()"
    return [sys.executable, "-P", "-c", code, json.dumps([path for path in sys.path if path])]


class EngineClient:
    """A sound engine in a process of its own.

    Parameters
    ----------
    sound
        Where the sound comes from and goes to.
    on_event
        Called with every event, in order, on a thread of ours. If it is slow, readings that a
        newer one has replaced are left out; scored notes never are. The last event is
        `EngineClosed`. It must not wait for the thread that calls `close`.
    log_path
        File that the sound libraries' own messages are added to.
    silent_s
        How long the engine may say nothing before that is an event of its own.
    """

    def __init__(
        self,
        sound: SoundSettings,
        on_event: Callable[[EngineEvent], None],
        *,
        log_path: Path,
        silent_s: float = SILENT_S,
    ) -> None:
        self._sound = sound
        self._on_event = on_event
        self._log_path = log_path
        self._silent_s = silent_s
        self._mailbox = Mailbox()
        self._closing = False
        self._process: subprocess.Popen[bytes] | None = None
        self._sender: Sender | None = None
        self._delivery = threading.Thread(target=self._deliver, name="sound events", daemon=True)

    def __enter__(self) -> "EngineClient":
        self.start()
        return self

    def __exit__(self, *_exception: object) -> None:
        self.close()

    @property
    def process_id(self) -> int | None:
        """The system's number of the engine's process, once it has started."""
        return None if self._process is None else self._process.pid

    def start(self) -> None:
        """Start the process. What becomes of it comes as events."""
        with _log_file(self._log_path) as log:
            self._process = subprocess.Popen(
                python_running("intonation.engine.child"),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=log,
                env=os.environ | {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"},
                start_new_session=True,
            )
        assert self._process.stdin is not None
        self._sender = Sender(self._process.stdin)
        self._sender.send(self._sound)
        threading.Thread(target=self._receive, name="sound pipe", daemon=True).start()
        self._delivery.start()

    def send(self, command: EngineCommand) -> bool:
        """Send a command; return whether the engine is still there to take it."""
        return self._sender is not None and self._sender.send(command)

    def close(self) -> None:
        """Fade out and end the engine; return when it has ended and every event is delivered."""
        if self._process is None:
            return
        self._closing = True
        self.send(CloseSound())
        try:
            self._process.wait(CLOSE_S)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        if threading.current_thread() is not self._delivery:
            self._delivery.join(CLOSE_S)
        with contextlib.suppress(OSError):
            self._process.stdin.close()  # type: ignore[union-attr]

    def _receive(self) -> None:
        assert self._process is not None
        assert self._process.stdout is not None
        closed = False
        with self._process.stdout as pipe:
            while (event := receive(pipe)) is not None:
                closed = closed or isinstance(event, EngineClosed)
                self._mailbox.put(event)
        if not closed:
            if not self._closing:
                self._mailbox.put(self._died())
            self._mailbox.put(EngineClosed())

    def _deliver(self) -> None:
        told = False
        while True:
            event: Any = self._mailbox.take(timeout_s=self._silent_s)
            if event is not None:
                told = False
                self._on_event(event)
            elif not told and not self._closing:
                told = True
                self._on_event(_hangs(self._silent_s))
            if isinstance(event, EngineClosed):
                return

    def _died(self) -> SoundFault:
        return SoundFault(
            say("The sound engine has died; every note that was scored is kept."),
            say(
                "Start the sound again. What it said last is in {log_path}.",
                log_path=self._log_path,
            ),
            fatal=True,
        )


def _hangs(silent_s: float) -> SoundFault:
    return SoundFault(
        say("The sound engine has not answered for {silent_s:g} seconds.", silent_s=silent_s),
        say("Wait a moment; if the sound does not come back, stop it and start it again."),
        fatal=False,
    )


def _log_file(path: Path) -> IO[bytes]:
    """Open the log for appending; without a place to write it the messages are thrown away."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        return path.open("ab")
    except OSError:
        return Path(os.devnull).open("ab")
