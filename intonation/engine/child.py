"""The sound engine's own process: commands come in on stdin, events go out on stdout.

It ends when it is told to, and by itself when the interface has died: the pipe then closes.
"""

import contextlib
import gc
import os
import signal
import sys
import threading
import time
import traceback
from collections import deque
from dataclasses import dataclass, field
from typing import IO

from intonation.engine.channel import Sender, receive
from intonation.engine.connecting import connection_for, keys_for
from intonation.engine.messages import (
    CloseSound,
    EngineClosed,
    EngineCommand,
    EngineEvent,
    SoundFault,
)
from intonation.engine.sound_engine import SoundEngine
from intonation.language import say

TURN_S = 0.02
REPORT_S = 0.1
_ORPHAN_S = 3.0
_SWITCH_S = 0.0005
"""How soon a sound callback that waits for the interpreter gets it (Python's default is 5 ms)."""


@dataclass(slots=True)
class _Orders:
    """Commands that have arrived and were not carried out yet."""

    waiting: deque[EngineCommand] = field(default_factory=deque)
    arrived: threading.Event = field(default_factory=threading.Event)


def main() -> None:
    """Run the engine until it is closed or its parent dies."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    sys.setswitchinterval(_SWITCH_S)
    # unbuffered: a thread that waits inside a buffer would hold its lock when the process ends
    commands, sender = (
        os.fdopen(os.dup(sys.stdin.fileno()), "rb", buffering=0),
        Sender(_event_pipe()),
    )
    sound = receive(commands)
    if sound is None:
        return
    orders = _Orders()
    threading.Thread(target=_take_orders, args=(commands, orders), daemon=True).start()
    engine = SoundEngine(connection_for(sound), headphones=sound.headphones, keys=keys_for(sound))
    try:
        _run(engine, orders, sender)
    except Exception:
        traceback.print_exc()
        sender.send(_mistake_of_ours())
        with contextlib.suppress(Exception):
            engine.close()
    sender.send(EngineClosed())


def _event_pipe() -> IO[bytes]:
    """Keep stdout for events alone; whatever else is printed goes to the log, as stderr does."""
    pipe = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    return pipe


def _take_orders(pipe: IO[bytes], orders: _Orders) -> None:
    while True:
        command = receive(pipe)
        orders.waiting.append(CloseSound() if command is None else command)
        orders.arrived.set()
        if command is None:
            # The interface is gone. Should the sound system hold us up, leave all the same.
            time.sleep(_ORPHAN_S)
            os._exit(1)


def _run(engine: SoundEngine, orders: _Orders, sender: Sender) -> None:
    _tell(sender, engine.open())
    gc.freeze()
    report_at_s = 0.0
    while True:
        while orders.waiting:
            command = orders.waiting.popleft()
            _tell(sender, engine.obey(command))
            if isinstance(command, CloseSound):
                return
        _tell(sender, engine.listen())
        _tell(sender, engine.check())
        if time.monotonic() >= report_at_s:
            report_at_s = time.monotonic() + REPORT_S
            sender.send(engine.counters())
        orders.arrived.wait(TURN_S)
        orders.arrived.clear()


def _tell(sender: Sender, events: list[EngineEvent]) -> None:
    for event in events:
        sender.send(event)


def _mistake_of_ours() -> SoundFault:
    return SoundFault(
        say(
            "The sound engine has stopped because of a mistake in this program; "
            "every note that was scored is kept."
        ),
        say("Start the sound again; please send the log file to the makers of this program."),
        fatal=True,
    )
