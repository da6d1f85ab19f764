"""How well before/after comparisons find changes, on simulated pairs. Run as a module.

python -m tests.benchmarks.comparison_accuracy [PAIRS] [FIRST_SEED] [chosen|whole]
"""

import sys
from collections.abc import Sequence

import numpy as np

from intonation.diagnosis.comparison import compare
from intonation.diagnosis.parts import HALF_WIDTH_90
from tests.support.worlds import adjusted

VERDICTS = ("unchanged", "cannot tell", "changed")


def study(*, pairs: int, first_seed: int, chosen: bool = True) -> np.ndarray:
    """Return one line per note: true change, estimate, its error, index into ``VERDICTS``."""
    lines = []
    for seed in range(first_seed, first_seed + pairs):
        case = adjusted(seed, chosen=chosen)
        for note in compare(case.rows, before=case.before, after=case.after):
            truth = case.changes_cents[note.midi]
            verdict = VERDICTS.index(note.verdict)
            lines.append((truth, note.change.mean, note.error_cents, verdict))
    return np.array(lines)


def figures(lines: np.ndarray) -> dict[str, float]:
    """Return the figures of merit of compared notes."""
    truth, estimate, error, verdict = lines.T
    size = np.abs(truth)
    large, medium, none = size >= 10, (size >= 7) & (size < 10), size == 0
    return {
        "10-18 found": np.mean(verdict[large] == 2),
        "7-10 found": np.mean(verdict[medium] == 2),
        "false changed": np.mean(verdict[none] == 2),
        "7-18 called unchanged": np.mean(verdict[large | medium] == 0),
        "untouched called unchanged": np.mean(verdict[none] == 0),
        "cover": np.mean(np.abs(estimate - truth) <= HALF_WIDTH_90 * error),
        "error": np.mean(error),
        "rms": np.sqrt(np.mean((estimate - truth) ** 2)),
        "notes": len(lines),
    }


def main(arguments: Sequence[str]) -> None:
    """Print the figures."""
    pairs, seed = (int(a) for a in arguments[:2]) if len(arguments) > 1 else (40, 1000)
    chosen = arguments[2:] != ["whole"]
    found = figures(study(pairs=pairs, first_seed=seed, chosen=chosen))
    print(" ".join(f"{name} {value:.3g};" for name, value in found.items()))


if __name__ == "__main__":
    main(sys.argv[1:])
