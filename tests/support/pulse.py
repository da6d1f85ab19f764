"""A private PulseAudio for tests of real sound: speaker and microphone share one air."""

import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from intonation.audio.devices import portaudio
from intonation.errors import SetupError

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

    def play(self, recording: Path) -> None:
        """Play a recording into the room and return when it has ended."""
        subprocess.run(
            ["paplay", "--device=speaker", str(recording)], env=self.environment, check=True
        )


def what_is_missing() -> str | None:
    """Return why there can be no session on this machine; None if there can."""
    missing = [name for name in ("pulseaudio", "pactl", "paplay") if shutil.which(name) is None]
    if missing:
        return f"real sound needs PulseAudio: {', '.join(missing)} not found"
    try:
        portaudio()
    except SetupError as error:
        return error.sentence
    return None


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
