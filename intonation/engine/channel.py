"""Messages through a pipe between the interface and the sound engine's process.

Each message is its length (4 bytes, little-endian) and its pickle. Both ends are the same program
started by the same user, so a pickle from the other end is as trustworthy as our own code.
"""

import pickle
import struct
from threading import Lock
from typing import IO, Any

_LENGTH = struct.Struct("<I")


class Sender:
    """The writing end; any thread may send.

    Parameters
    ----------
    pipe
        A binary file opened for writing.
    """

    def __init__(self, pipe: IO[bytes]) -> None:
        self._pipe = pipe
        self._lock = Lock()

    def send(self, message: object) -> bool:
        """Send a message; return whether the other end still listens."""
        content = pickle.dumps(message, protocol=pickle.HIGHEST_PROTOCOL)
        with self._lock:
            try:
                self._pipe.write(_LENGTH.pack(len(content)) + content)
                self._pipe.flush()
            except (OSError, ValueError):
                return False
        return True


def receive(pipe: IO[bytes]) -> Any:
    """Return the next message; None when the other end has closed or died."""
    try:
        header = pipe.read(_LENGTH.size)
        if len(header) < _LENGTH.size:
            return None
        (length,) = _LENGTH.unpack(header)
        content = pipe.read(length)
    except (OSError, ValueError):
        return None
    return pickle.loads(content) if len(content) == length else None
