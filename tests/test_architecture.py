"""The house keeps its shape: one-way dependencies, a pure core, and a light start."""

import subprocess
import sys

HEAVY = ("textual", "sounddevice", "soundfile", "fluidsynth", "mido", "scipy", "sqlite3")
CORE = (
    "pitch.tuning",
    "tracking.events",
    "instruments",
    "heldnotes.row",
    "exercise",
    "habits.finding",
    "habits.practice_plan",
    "assessment.scoring",
    "practice.events",
    "simulation",
    "words",
)
LINT_IMPORTS = "from importlinter.cli import lint_imports; raise SystemExit(lint_imports())"


def modules_loaded_after(statement: str) -> set[str]:
    code = f"import sys\n{statement}\nprint(*sys.modules, sep='\\n')"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(run.stdout.split())


def test_the_pure_core_loads_no_device_screen_or_disk_library() -> None:
    loaded = modules_loaded_after("\n".join(f"import intonation.{name}" for name in CORE))
    assert loaded.isdisjoint(HEAVY)


def test_layers_are_kept() -> None:
    command = [sys.executable, "-c", LINT_IMPORTS]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
