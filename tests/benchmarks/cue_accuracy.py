"""Whether anything but the pitch tells the answers of each ear drill. Run as a module.

python -m tests.benchmarks.cue_accuracy [TRIALS] [SEED]

Prints, for each drill, the share of trials in which a linear discriminant on level, spectral
centroid and onset finds the answer, beside what chance does and twice its standard error.
"""

import sys
from collections.abc import Sequence

import numpy as np

from intonation.listening.drills.tune_it import TuneIt
from tests.support.cues import DRILLS, seen_in, share_classified


def main(arguments: Sequence[str]) -> None:
    """Print a line for each drill."""
    count, seed = map(int, (*arguments, *("1500", "1")[len(arguments) :]))
    for name in (*DRILLS, TuneIt.name):
        seen = [*seen_in(name, count, np.random.default_rng(seed))]
        answers = np.array([told for _, told in seen])
        found = share_classified(np.array([each for each, _ in seen]), answers)
        chance = max(answers.mean(), 1.0 - answers.mean())
        error = (chance * (1.0 - chance) / count) ** 0.5
        print(f"| {name} | {found:.3f} | {chance:.3f} | {2.0 * error:.3f} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
