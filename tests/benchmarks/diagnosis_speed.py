"""How long a diagnosis takes: of one pair, of a school's record in memory, and as a command.

``python -m tests.benchmarks.diagnosis_speed [pair] [record] [command]`` prints seconds of the
processor; of the commands also how long they take, reading and printing included. Without a word
it measures all. For one thread set ``OMP_NUM_THREADS=1``.
"""

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from intonation.diagnosis.attribution import attribution_of
from intonation.diagnosis.diagnosing import diagnose
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.parts import parts_of
from intonation.diagnosis.planner import next_experiments
from intonation.heldnotes.exchange import csv_lines
from intonation.heldnotes.row import HeldNoteRow
from intonation.store.store import Store
from tests.support.large_store import large_store
from tests.support.worlds import checked

COMMAND = "import sys; from intonation.cli.main import main; sys.exit(main(sys.argv[1:]))"
PAIRS = range(7000, 7012)
OPEN_NOTES = range(8)
CANDIDATES = 3 * len(OPEN_NOTES) + 3
"""Three experiments on each open note, and three on all notes together."""


def seconds(do: Callable[[], object], *, times: int = 1) -> float:
    """Return the processor's seconds of the quickest of some times."""
    took = []
    for _ in range(times):
        began = time.process_time()
        do()
        took.append(time.process_time() - began)
    return min(took)


def a_school() -> list[HeldNoteRow]:
    """Return ten years of 50 players on 30 instruments."""
    return large_store(1, players=50, instruments=30, notes=420_000).rows


def of_pairs() -> None:
    """Print how long one player on one instrument takes, 27 notes, A-B-A."""
    whole, planned = [], []
    for seed in PAIRS:
        rows = list(checked(seed)[0])
        whole.append(seconds(partial(diagnose, rows), times=3))
        fit = attribution_of(evidence_from(rows))
        parts = parts_of(fit, player=0, instrument=0)
        planning = partial(next_experiments, fit, parts, open_notes=OPEN_NOTES)
        planned.append(seconds(planning, times=3) / CANDIDATES)
    for what, took in (("one pair", whole), ("planner, each candidate", planned)):
        print(f"{what:<34} {min(took):7.4f} to {max(took):.4f} s of the processor")


def of_record(rows: Sequence[HeldNoteRow]) -> None:
    """Print how long all pairs take together."""
    took = seconds(partial(diagnose, rows), times=2)
    print(f"{f'{len(rows)} rows in memory':<34} {took:7.2f} s of the processor")


def of_commands(rows: Sequence[HeldNoteRow]) -> None:
    """Print how long somebody waits for the command, from a table and from the practice record."""
    with tempfile.TemporaryDirectory() as name:
        table, record = Path(name) / "notes.csv", Path(name) / "practice.sqlite"
        with table.open("w", encoding="utf-8") as file:
            file.writelines(csv_lines(rows))
        waited(f"table of {len(rows)} rows", ["--held-notes", str(table)])
        with Store(record) as store:
            store.add_held_notes(rows)
        waited(f"record of {len(rows)} held notes", ["--record", str(record)])


def waited(what: str, options: Sequence[str]) -> None:
    """Run the command and print what it took."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    asked = [sys.executable, "-c", COMMAND, "diagnose", "--csv", *options]
    subprocess.run(asked, check=True, stdout=subprocess.DEVNULL)
    took, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    most_mb = after.ru_maxrss / 1024.0
    print(f"{what:<34} {processor:7.2f} s of the processor, {took:.2f} s in all, {most_mb:.0f} MB")


def main(wanted: Sequence[str]) -> None:
    """Measure what is asked for."""
    if "pair" in wanted:
        of_pairs()
    if "record" in wanted or "command" in wanted:
        rows = a_school()
        if "record" in wanted:
            of_record(rows)
        if "command" in wanted:
            of_commands(rows)


if __name__ == "__main__":
    main(sys.argv[1:] or ["pair", "record", "command"])
