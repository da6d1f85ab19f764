"""How long the program takes from being started to its first page, with a record of many years.

``python -m tests.benchmarks.start_speed`` writes a record of 700,000 held notes into a temporary
folder and opens the program with it ten times, in a real pseudo-terminal. Printed are the time
until the first page has been drawn whole, and the processor's time that the program had used by
then: on a busy machine the first says more about its neighbours. A folder behind the command is
used as it is.
"""

import sys
import tempfile
import time
from pathlib import Path

from intonation.store.settings import RememberedSettings, write_settings
from tests.support.long_record import long_record
from tests.support.terminal import Terminal

START = "import sys; from intonation.cli.main import main; sys.exit(main([]))"
LAST_DRAWN = "says how it was."
"""The end of the sentence that the practice page prints last, when it knows its width."""


def opened(home: Path) -> tuple[float, float]:
    """Return seconds until the first page was drawn, and seconds of the processor."""
    began = time.perf_counter()
    with Terminal(START, home=home, columns=80, lines=24) as terminal:
        while LAST_DRAWN not in terminal.drawn:
            time.sleep(0.001)
        took = time.perf_counter() - began
        return took, _processor_s(terminal.process.pid)


def _processor_s(pid: int) -> float:
    """Return the processor's time of a process and its threads, as Linux counts it."""
    tasks = Path(f"/proc/{pid}/task").iterdir()
    return sum(int((task / "schedstat").read_text().split()[0]) for task in tasks) / 1e9


def main() -> None:
    """Measure, and print the shortest and the middle one of ten."""
    with tempfile.TemporaryDirectory() as name:
        home = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(name)
        if not (home / "practice.sqlite").exists():
            write_settings(home / "settings.toml", RememberedSettings())
            long_record(home / "practice.sqlite")
        opened(home)
        drawn, processor = zip(*(opened(home) for _ in range(10)), strict=True)
        for what, took in (("first page drawn", drawn), ("processor", processor)):
            print(f"{what:<18} shortest {min(took):.3f} s, middle {sorted(took)[5]:.3f} s")


if __name__ == "__main__":
    main()
