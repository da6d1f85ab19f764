"""A real terminal for the program: what it draws is read, keys are pressed."""

import fcntl
import os
import pty
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from select import select

ROWS, COLUMNS = 24, 80


class Terminal:
    """The far end of a terminal in which the program runs."""

    def __init__(self, program: subprocess.Popen[bytes], end: int) -> None:
        self.program = program
        self.drawn = ""
        self._end = end

    def press(self, keys: str) -> None:
        """Press keys."""
        os.write(self._end, keys.encode())

    def wait_for(self, text: str, *, seconds: float = 60.0) -> None:
        """Read until a text has been drawn."""
        give_up = time.monotonic() + seconds
        while text not in self.drawn and time.monotonic() < give_up:
            self._read()
        assert text in self.drawn, self.drawn[-2_000:]

    def wait_for_end(self, *, seconds: float = 60.0) -> int:
        """Read until the program has ended, and return its exit code."""
        give_up = time.monotonic() + seconds
        while self.program.poll() is None and time.monotonic() < give_up:
            self._read()
        return self.program.wait(timeout=1.0)

    def _read(self) -> None:
        ready, _, _ = select([self._end], [], [], 0.1)
        if ready:
            try:
                self.drawn += os.read(self._end, 65_536).decode("utf-8", "replace")
            except OSError:
                # Linux says so when nobody holds the near end any more
                self.program.wait(timeout=10.0)


@contextmanager
def intonation_in_a_terminal(*arguments: str, home: Path) -> Iterator[Terminal]:
    """Run the program in a terminal of 80 by 24 with a home folder of its own."""
    far_end, near_end = pty.openpty()
    fcntl.ioctl(near_end, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
    program = subprocess.Popen(
        [sys.executable, "-m", "intonation", *arguments],
        stdin=near_end,
        stdout=near_end,
        stderr=near_end,
        env={**os.environ, "INTONATION_HOME": str(home), "TERM": "xterm-256color"},
        start_new_session=True,
    )
    os.close(near_end)
    try:
        yield Terminal(program, far_end)
    finally:
        program.kill()
        program.wait()
        os.close(far_end)
