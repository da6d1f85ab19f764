"""A private PulseAudio for tests of real sound: speaker and microphone share one air."""

import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import ParamSpec

from intonation.audio.devices import portaudio
from intonation.errors import SetupError
from tests.support.waiting import until

P = ParamSpec("P")

SCRIPT = Path(__file__).parents[2] / ".ci" / "pulse-session"
_SPEAK = "env; echo; exec cat"


@dataclass(frozen=True, slots=True)
class PulseSession:
    """One server.

    Parameters
    ----------
    environment
        Variables that lead a program to it.
    server
        Its process number.
    """

    environment: dict[str, str]
    server: int

    @contextmanager
    def recording(self, path: Path) -> Iterator[None]:
        """Record what sounds in the room, as raw 32-bit floats at 48 kHz, while the block runs."""
        command = ["parec", "--device=speaker.monitor", "--format=float32le", "--rate=48000"]
        with (
            path.open("wb") as file,
            subprocess.Popen(
                [*command, "--channels=1", "--latency-msec=50"], env=self.environment, stdout=file
            ) as recorder,
        ):
            assert until(lambda: path.stat().st_size > 0), "nothing is recorded"
            yield
            recorder.terminate()

    def play(self, recording: Path) -> None:
        """Play a recording into the room and return when it has ended."""
        subprocess.run(
            ["paplay", "--device=speaker", str(recording)], env=self.environment, check=True
        )


def what_is_missing() -> str | None:
    """Return why there can be no session on this machine; None if there can."""
    missing = [
        name for name in ("pulseaudio", "pactl", "paplay", "parec") if shutil.which(name) is None
    ]
    if missing:
        return f"real sound needs PulseAudio: {', '.join(missing)} not found"
    try:
        portaudio()
    except SetupError as error:
        return error.sentence
    return None


def once_more_if_busy(test: Callable[P, None]) -> Callable[P, None]:
    """Let a test of real time fail once: a machine may be too busy, and the retry is printed."""

    @wraps(test)
    def tried_twice(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            test(*args, **kwargs)
        except AssertionError as first:
            print(f"{test.__name__} is tried once more: {first}")
            test(*args, **kwargs)

    return tried_twice


@contextmanager
def pulse_session() -> Iterator[PulseSession]:
    """Start a server; it ends with the block."""
    command = [str(SCRIPT), "sh", "-c", _SPEAK]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as session:
        assert session.stdin is not None
        assert session.stdout is not None
        lines = iter(session.stdout.readline, "\n")
        environment = dict(line.rstrip("\n").split("=", 1) for line in lines if "=" in line)
        home = Path(environment["INTONATION_PULSE_SESSION"])
        yield PulseSession(environment, int((home / "server.pid").read_text()))
        session.stdin.close()
