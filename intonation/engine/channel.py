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
    header = _exactly(_LENGTH.size, pipe)
    if header is None:
        return None
    content = _exactly(_LENGTH.unpack(header)[0], pipe)
    return None if content is None else pickle.loads(content)


def _exactly(count: int, pipe: IO[bytes]) -> bytes | None:
    content = b""
    while len(content) < count:
        try:
            piece = pipe.read(count - len(content))
        except (OSError, ValueError):
            return None
        if not piece:
            return None
        content += piece
    return content
