"""A program in a real pseudo-terminal: type into it, and read what it drew."""

import fcntl
import os
import pty
import re
import signal
import struct
import subprocess
import sys
import termios
import threading
from pathlib import Path

from tests.support.waiting import until

_ESCAPES = re.compile(rb"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07]*\x07|[()][0-9A-B]|[=>])")


class Terminal:
    """Python code that runs in a terminal of its own, with a home folder of its own."""

    def __init__(self, code: str, *, home: Path, columns: int = 200, lines: int = 40) -> None:
        self._drawn = bytearray()
        ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        self.process = subprocess.Popen(
            [sys.executable, "-c", code],
            stdin=theirs,
            stdout=theirs,
            stderr=theirs,
            env=os.environ | {"INTONATION_HOME": str(home), "TERM": "xterm-256color"},
            start_new_session=True,
        )
        os.close(theirs)
        self._ours = ours
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.kill()
        self._reader.join()
        os.close(self._ours)

    @property
    def drawn(self) -> str:
        """Everything that was drawn so far, without colours and positions."""
        return _ESCAPES.sub(b"", bytes(self._drawn)).decode("utf-8", "replace")

    def shows(self, text: str) -> bool:
        """Wait for some text, wherever its lines are broken; return whether it came."""
        return until(lambda: _unspaced(text) in _unspaced(self.drawn))

    def type(self, keys: str) -> None:
        os.write(self._ours, keys.encode())

    def wait(self) -> int:
        """Wait for the program's own end and return its exit code."""
        return self.process.wait(20)

    def kill(self) -> None:
        """End it as a crash of the system would."""
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def _read(self) -> None:
        while True:
            try:
                piece = os.read(self._ours, 65536)
            except OSError:
                return
            if not piece:
                return
            self._drawn += piece


def _unspaced(text: str) -> str:
    return "".join(text.split())
