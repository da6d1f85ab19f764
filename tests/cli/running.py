"""Runs the program as its user does: as a command of its own."""

import os
import subprocess
import sys
from pathlib import Path


def intonation(
    *arguments: object, home: Path, **environment: str
) -> subprocess.CompletedProcess[str]:
    """Run a command with a home folder of its own and return what it printed."""
    return subprocess.run(
        [sys.executable, "-m", "intonation", *map(str, arguments)],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "INTONATION_HOME": str(home), "PYTHONUTF8": "1", **environment},
        stdin=subprocess.DEVNULL,
        timeout=120,
        check=False,
    )
